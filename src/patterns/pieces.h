// SPDX-License-Identifier: MIT
// One function for each kind of pattern; for this part only. See pattern_kinds.h.
#pragma once

#include <vector>

#include "patterns/pattern_kinds.h"

namespace potshadow::internal {

Result<std::vector<Pattern>> profile_pieces(const PatternVessel& vessel,
                                            const PatternChoices& choices);
Result<std::vector<Pattern>> rib_pieces(const PatternVessel& vessel, const PatternChoices& choices);
Result<std::vector<Pattern>> ring_pieces(const PatternVessel& vessel,
                                         const PatternChoices& choices);
Result<std::vector<Pattern>> stick_pieces(const PatternVessel& vessel);
Result<std::vector<Pattern>> cradle_pieces(const PatternVessel& vessel,
                                           const PatternChoices& choices);
Result<std::vector<Pattern>> lid_pieces(const PatternVessel& vessel, const PatternChoices& choices);
Result<std::vector<Pattern>> section_pieces(const PatternVessel& vessel,
                                            const PatternChoices& choices);

// Returns the points of a profile as a pattern has them.
std::vector<PatternPoint> pattern_points(const std::vector<ProfilePoint>& points);

}  // namespace potshadow::internal

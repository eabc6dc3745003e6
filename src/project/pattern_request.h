// SPDX-License-Identifier: MIT
// From a measurement to what patterns, and the files and sheets of them, are drawn from.
#pragma once

#include <optional>
#include <string>

#include "clay/linear_shrinkage.h"
#include "core/result.h"
#include "patterns/pattern_kinds.h"
#include "project/measure.h"

namespace potshadow {

// How big the vessel is made.
struct MadeSize {
  Stage stage = Stage::kWet;
  TotalShrinkage shrinkage;         // from that stage to fired
  std::string clay_name{};          // may be empty
  std::optional<double> wall_mm{};  // at that stage; the project's, enlarged, if absent
};

// Returns the size at which the vessel is made at a stage: of a clay whose figures are known. Fails
// as TotalShrinkage does.
Result<MadeSize> made_size(const ProjectClayFigures& clay, Stage stage);

// Returns what the vessel's patterns are drawn from. `file` is the project's file, for a vessel
// without a name. Fails with kCannotBeAnswered where nothing says how big the vessel is.
Result<PatternVessel> pattern_vessel(const Measurement& measurement, const std::string& file,
                                     const MadeSize& made, LengthUnit unit);

// Returns what a file says of itself: "Shelf jar, wet size, enlarged for 12.0 % shrinkage (Buff
// mix)", and that the scale is guessed, if it is.
std::string pattern_about(const Measurement& measurement, const std::string& file,
                          const MadeSize& made);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The comparison of a replica with its original on paper.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "core/text.h"
#include "patterns/pattern.h"
#include "project/compare_report.h"
#include "sheets/pattern_pages.h"

namespace potshadow {

// Returns both outlines and their gap, at the largest of the usual scales at which the drawing is
// no wider than `most_width_mm` and no higher than `most_height_mm`; none where there is no shape
// to draw. The scale goes into `scale`.
std::optional<Pattern> comparison_drawing(const VesselComparison& comparison, double most_width_mm,
                                          double most_height_mm, double& scale);

// Returns the sheet: the paragraph, the drawing, the table of sizes and what stands beside them in
// `more`.
PatternSheet comparison_sheet(const VesselComparison& comparison, LengthUnit unit,
                              std::vector<Pattern> more);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The comparison of a replica with its original on paper.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "core/text.h"
#include "patterns/pattern.h"
#include "project/compare_report.h"
#include "project/sheet_request.h"
#include "sheets/pattern_pages.h"

namespace potshadow {

// Returns both outlines and their gap, at the largest of the usual scales at which the drawing is
// no wider than `most_width_mm` and no higher than `most_height_mm`; none where there is no shape
// to draw. The scale goes into `scale`.
std::optional<Pattern> comparison_drawing(const VesselComparison& comparison, double most_width_mm,
                                          double most_height_mm, double& scale);

// Returns both outlines and their gap at true size. Fails with kCannotBeAnswered where there are no
// two outlines to draw.
Result<Pattern> comparison_at_true_size(const VesselComparison& comparison);

// Returns what the two are called on a sheet: "My jar and Shelf jar".
std::string comparison_title(const VesselComparison& comparison);
// Returns what is said of that drawing in its file: "fired size, scale 1:1, millimetres".
std::string comparison_drawing_words(const VesselComparison& comparison);

// Returns the curve through the rows of an outline. Fails as Profile::through.
Result<Profile> compared_profile(const std::vector<ProfilePoint>& rows);

// Returns the section drawing of each whose outline is known, original first, at the largest of the
// usual scales at which both fit beside each other: the wall cut through on the left, the outside
// on the right. Where nothing says how thick the wall is, it is drawn as a line.
std::vector<Pattern> comparison_sections(const VesselComparison& comparison, LengthUnit unit,
                                         double& scale);

// Returns the sheets: the paragraph, the drawing and the table of sizes; then the sections, and
// what stands beside them in `more`, where there are any.
std::vector<PatternSheet> comparison_sheets(const VesselComparison& comparison, LengthUnit unit,
                                            std::vector<Pattern> more);

// Returns it as a PDF, with `now` as its date. Fails as pattern_sheet_set. Slow: about a tenth of a
// second.
Result<SheetPdf> comparison_pdf(const VesselComparison& comparison, const SheetChoices& choices,
                                std::vector<Pattern> more,
                                std::chrono::system_clock::time_point now);

}  // namespace potshadow

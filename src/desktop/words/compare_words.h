// SPDX-License-Identifier: MIT
// Two pots held against each other in words: the rows of their table, gaps, and what is shown.
#pragma once

#include <string>
#include <vector>

#include "core/text.h"
#include "project/compare_report.h"

namespace potshadow {

// A size or proportion of both pots, as the table shows it.
struct ComparedRow {
  std::string words;
  std::string original;  // "235.1 ± 2.8"
  std::string replica;
  std::string difference;
  std::string verdict;
  bool differs = false;
};

std::vector<ComparedRow> compared_size_rows(const VesselComparison& comparison, LengthUnit unit);
std::vector<ComparedRow> compared_proportion_rows(const VesselComparison& comparison);

// Returns a gap as it is said where it is pointed at: "120 mm up, at the belly: 2.3 ± 1.1 mm
// farther out. Beyond doubt."
std::string gap_words(const GapRow& row, LengthUnit unit);

// Returns what is larger or smaller about the whole: "All over 1.060 ± 0.012 times the original,
// heights 1.058 ± 0.015, widths 1.061 ± 0.013." Requires that the shapes were laid together.
std::string scales_words(const ShapeDifference& shape);

// Returns how far apart the outlines are once both are brought to one size: "1.4 mm apart on
// average, with 3.2 cm² between them on each side."
std::string apart_words(const ShapeDifference& shape, LengthUnit unit);

// Returns which pot the lines of the drawing are of.
std::string line_legend(const VesselComparison& comparison);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Shrinkage in words: what it is, whether a typed one can be, and the sizes to make.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "clay/shrinkage.h"
#include "core/result.h"
#include "core/text.h"
#include "project/measure.h"

// Shrinkage is counted in parts of the wet length. Source: ASTM C326-03.
namespace potshadow {

// One size at its two stages; figures without unit and without "±".
struct WetRow {
  SizeName name = SizeName::kHeight;
  std::string label;
  std::string unit;
  std::string fired;  // the original's
  std::string fired_plus_minus;
  std::string wet;  // to make it
  std::string wet_plus_minus;
  std::string wet_sixteenths;  // only where inches are asked for, and for lengths
  bool leading = false;
};

inline constexpr std::string_view kFiredHeading = "Fired, as the original";
inline constexpr std::string_view kWetHeading = "Wet, as you make it";

// Returns the sizes by the measurement's shrinkage, in the order of SizeName.
std::vector<WetRow> wet_rows(const Measurement& measurement, LengthUnit unit);

// Returns what shrinkage is and how to find one's own: two or three sentences.
std::string_view shrinkage_explained();
// Returns "A 100 mm line on wet clay fires to 88 mm."
std::string shrinkage_example(const TotalShrinkage& shrinkage);
// Returns "Make every length 1.136 times the original's."
std::string enlargement_sentence(const TotalShrinkage& shrinkage);
// The same of a clay that may shrink upright and across by figures of their own.
std::string enlargement_sentence(const BodyFigures& figures, const TotalShrinkage& total);

// Return the percentage in typed text ("12", "12.5 %", "12,5"). Fail with kBadValue: no number, or
// one outside 0-30 % (shrinkage), 0-10 percentage points (its doubt).
Result<double> typed_shrinkage(std::string_view text);
Result<double> typed_shrinkage_doubt(std::string_view text);

}  // namespace potshadow

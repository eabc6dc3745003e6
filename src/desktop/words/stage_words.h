// SPDX-License-Identifier: MIT
// The sizes at every stage of the pot, and whether photograph or clay is their greater doubt.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "clay/linear_shrinkage.h"
#include "core/text.h"
#include "project/measure.h"

namespace potshadow {

inline constexpr std::array kStages{Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry,
                                    Stage::kFired};

// One size; figures without unit and "±", in the order of kStages.
struct StageRow {
  SizeName name = SizeName::kHeight;
  std::string label;
  std::string unit;
  std::array<std::string, kStages.size()> value;
  std::array<std::string, kStages.size()> plus_minus;
  std::string doubt;  // "clay 72 %": the greater part of the doubt when wet
  bool by_clay = false;
};

// Returns the rows in the order of SizeName; none without a clay or without a scale.
std::vector<StageRow> stage_rows(const Measurement& measurement, LengthUnit unit);

// Returns which of the two dominates and what would help: one or two sentences; empty where there
// are no rows.
std::string stage_doubt_sentence(const Measurement& measurement);

// Returns "Leather-hard" and so on.
std::string stage_title(Stage stage);

}  // namespace potshadow

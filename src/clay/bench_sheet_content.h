// SPDX-License-Identifier: MIT
// All that a bench sheet says, ready to be laid out on paper.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "clay/build_plan.h"
#include "core/measured.h"
#include "core/result.h"
#include "core/text.h"

// Plain values: what fills them is project/bench_sheet.h, what draws them needs no project. Lengths
// in millimetres, capacities in millilitres, weights in grams.
namespace potshadow {

struct BenchSheetContent {
  struct SizeRow {
    std::string words;                   // "Maximum diameter"
    std::array<Measured, 4> at_stage{};  // by Stage: wet, leather-hard, bone-dry, fired
    bool is_volume = false;
  };

  std::string vessel_name;
  std::string clay_name;      // to print; "the clay" where it has none
  std::string clay_sentence;  // what it shrinks by, and how that is known
  std::string enlargement;    // "Every length is that of the wet pot, 1.136 times the fired one."
  std::string guessed_scale;  // empty where the scale is known
  std::string date_line;      // "25 November 2026"
  LengthUnit unit = LengthUnit::kMm;
  std::vector<SizeRow> sizes;
  BuildPlan plan;                     // section, cradle, coils, clay, water, bands; its notes too
  std::vector<std::string> cautions;  // one sentence each
};

}  // namespace potshadow

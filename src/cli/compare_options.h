// SPDX-License-Identifier: MIT
// What 'potshadow compare' asks for, as plain values.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "clay/linear_shrinkage.h"
#include "cli/typed_options.h"

namespace potshadow {

struct CompareOptions {
  std::string original;
  std::string replica;
  Stage stage = Stage::kFired;  // of the replica
  LengthUnit unit = LengthUnit::kMm;
  std::string json_file;  // empty: not asked for; "-": standard output
  std::string csv_file;   // likewise
};

struct CompareHelp {
  std::string text;
};

// Returns what the arguments after "compare" ask for.
std::variant<CompareOptions, CompareHelp, UsageProblem> parse_compare_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// What 'potshadow compare' asks for, as plain values.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "clay/linear_shrinkage.h"
#include "cli/typed_options.h"
#include "sheets/paper.h"

namespace potshadow {

struct CompareOptions {
  std::vector<std::string> arguments;  // as they were typed, without the command
  std::string original;
  std::string replica;
  Stage stage = Stage::kFired;  // of the replica
  LengthUnit unit = LengthUnit::kMm;
  std::string json_file;     // empty: not asked for; "-": standard output
  std::string csv_file;      // likewise
  std::string drawing_file;  // SVG; empty: not asked for
  std::string sheet_file;    // PDF; likewise
  std::string over_file;     // PNG; likewise
  bool wipe = false;         // one half each, in place of both through each other
  Paper paper = Paper::kA4;
};

struct CompareHelp {
  std::string text;
};

// Returns what the arguments after "compare" ask for.
std::variant<CompareOptions, CompareHelp, UsageProblem> parse_compare_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

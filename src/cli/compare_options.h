// SPDX-License-Identifier: MIT
// What 'potshadow compare' asks for, as plain values.
#pragma once

#include <cstddef>
#include <optional>
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
  std::vector<std::string> pots{};  // the replica, and the further ones of a series
  bool series = false;
  std::vector<Stage> stages{Stage::kFired};  // one for all pots, or one for each
  Stage original_stage = Stage::kFired;
  std::optional<Stage> at{};  // that both are compared at; fired if absent
  LengthUnit unit = LengthUnit::kMm;
  std::string json_file;     // empty: not asked for; "-": standard output
  std::string csv_file;      // likewise
  std::string drawing_file;  // SVG; empty: not asked for
  std::string sheet_file;    // PDF; likewise
  std::string over_file;     // PNG; likewise
  bool wipe = false;         // one half each, in place of both through each other
  Paper paper = Paper::kA4;
};

// Returns the stage of a pot, counted as in `pots`.
inline Stage stage_of(const CompareOptions& options, std::size_t pot) {
  return options.stages.size() == 1 ? options.stages.front() : options.stages.at(pot);
}

struct CompareHelp {
  std::string text;
};

// Returns what the arguments after "compare" ask for.
std::variant<CompareOptions, CompareHelp, UsageProblem> parse_compare_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

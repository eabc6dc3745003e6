// SPDX-License-Identifier: MIT
// What 'potshadow check' asks for, as plain values.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "cli/typed_options.h"
#include "project/bench_report.h"

namespace potshadow {

struct CheckOptions {
  std::string project;
  Stage stage = Stage::kWet;
  std::vector<BenchSizeReading> readings;
  std::string photo_project;  // of the bench photograph; empty: none
  double right_percent = kRightPercent;
  bool keep = false;      // write the sizes into the project
  bool evidence = false;  // and what the pot shrank by into its clay's record
  LengthUnit unit = LengthUnit::kMm;
  std::string json_file;  // empty: not asked for; "-": standard output
  std::string csv_file;   // likewise; not both "-"
};

struct CheckHelp {
  std::string text;
};

// Returns what the arguments after "check" ask for.
std::variant<CheckOptions, CheckHelp, UsageProblem> parse_check_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

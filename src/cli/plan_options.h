// SPDX-License-Identifier: MIT
// What 'potshadow plan' asks for, as plain values.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "cli/typed_options.h"
#include "project/plan_report.h"

namespace potshadow {

struct PlanOptions {
  std::string project;
  PlanChoices choices;
  LengthUnit unit = LengthUnit::kMm;
  std::string json_file;  // empty: not asked for; "-": standard output
};

struct PlanHelp {
  std::string text;
};

// Returns what the arguments after "plan" ask for.
std::variant<PlanOptions, PlanHelp, UsageProblem> parse_plan_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

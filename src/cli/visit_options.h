// SPDX-License-Identifier: MIT
// What 'potshadow visit' asks for, as plain values.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "cli/typed_options.h"
#include "sheets/paper.h"

namespace potshadow {

struct VisitOptions {
  std::string output_file;
  Paper paper = Paper::kA4;
};

struct VisitHelp {
  std::string text;
};

// Returns what the arguments after "visit" ask for.
std::variant<VisitOptions, VisitHelp, UsageProblem> parse_visit_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// What 'potshadow sheet' asks for, as plain values.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/made_vessel.h"
#include "sheets/paper.h"

namespace potshadow {

struct SheetOptions {
  MadeOptions made;
  std::string output_file;
  std::vector<PatternKind> kinds{};
  bool bench = false;  // the bench sheet, first
  bool all = false;    // what the vessel cannot have is left out
  std::optional<double> section_scale{};
  Paper paper = Paper::kA4;
  std::string printer{};  // empty: none is made up for
  std::optional<std::size_t> most_pages{};
};

struct SheetHelp {
  std::string text;
};

// Returns what the arguments after "sheet" ask for.
std::variant<SheetOptions, SheetHelp, UsageProblem> parse_sheet_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

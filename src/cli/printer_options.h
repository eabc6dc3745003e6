// SPDX-License-Identifier: MIT
// What 'potshadow printer' asks for, as plain values.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/typed_options.h"
#include "project/printer_book.h"

namespace potshadow {

struct PrinterOptions {
  std::string name;  // empty: list all
  std::optional<MeasuredBars> bars{};
  bool corrected = false;  // the bars are those of a sheet that made up for this printer
  bool forget = false;
};

struct PrinterHelp {
  std::string text;
};

// Returns what the arguments after "printer" ask for.
std::variant<PrinterOptions, PrinterHelp, UsageProblem> parse_printer_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

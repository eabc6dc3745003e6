// SPDX-License-Identifier: MIT
// What 'potshadow calibrate' asks for, as plain values.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "cli/typed_options.h"
#include "sheets/board_sheet.h"
#include "sheets/template_sheet.h"

namespace potshadow {

struct CalibrateOptions {
  std::vector<std::string> pictures;  // at least one, unless board_file is given
  double square_mm = kBoardSquareMm;
  std::string square_text;  // the same as it was typed
  int columns = kBoardColumns;
  int rows = kBoardRows;
  bool save = false;       // keep what was found in the user's book of cameras
  std::string board_file;  // write the board to print instead
  Paper paper = Paper::kA4;
};

struct CalibrateHelp {
  std::string text;
};

// Returns what the arguments after "calibrate" ask for.
std::variant<CalibrateOptions, CalibrateHelp, UsageProblem> parse_calibrate_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

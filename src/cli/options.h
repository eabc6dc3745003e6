// SPDX-License-Identifier: MIT
// What the command line asks for, as plain values.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "clay/shrinkage.h"
#include "core/text.h"
#include "sheets/template_sheet.h"

namespace potshadow {

// The file name that stands for standard output.
inline constexpr const char* kStandardOutput = "-";

struct MeasureOptions {
  std::vector<std::string> projects;  // at least one
  std::string json_file;              // empty: not asked for; "-": standard output
  std::string csv_file;               // likewise; not both "-"
  LengthUnit unit = LengthUnit::kMm;
};

struct SheetOptions {
  std::string project;
  std::string output_file;
  Paper paper = Paper::kA4;
  LengthUnit unit = LengthUnit::kMm;
  std::optional<double> shrinkage_percent;     // in place of the project's
  std::optional<double> shrinkage_sd_percent;  // likewise
};

struct WindowOptions {
  std::string file;  // a project or a photograph; empty: none
};

// A text asked for with --help or --version.
struct ShowText {
  std::string text;
};

// A command line that is not understood: one sentence each.
struct WrongUsage {
  std::string what;
  std::string next;
};

using Command = std::variant<MeasureOptions, SheetOptions, WindowOptions, ShowText, WrongUsage>;

// Returns what the arguments ask for; `arguments` are without the program's name. Never prints. A
// first word that is no command is a file for the window; one without a dot or a slash must be
// there to be taken for a file, so that a mistyped command is told.
Command parse_arguments(const std::vector<std::string>& arguments);

}  // namespace potshadow

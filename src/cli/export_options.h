// SPDX-License-Identifier: MIT
// What 'potshadow export' asks for, as plain values.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "cli/made_vessel.h"
#include "exports/exported_file.h"

namespace potshadow {

struct ExportOptions {
  MadeOptions made;
  std::string output_file;
  ExportFormat format = ExportFormat::kSvg;
  std::vector<PatternKind> patterns{};   // for SVG and DXF
  SolidKind solid = SolidKind::kVessel;  // for STL and OBJ
  SolidChoices choices{};
};

struct ExportHelp {
  std::string text;
};

// Returns what the arguments after "export" ask for.
std::variant<ExportOptions, ExportHelp, UsageProblem> parse_export_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// What the command line asks for, as plain values.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "cli/calibrate_options.h"
#include "cli/check_options.h"
#include "cli/clay_options.h"
#include "cli/compare_options.h"
#include "cli/export_options.h"
#include "cli/measure_options.h"
#include "cli/plan_options.h"
#include "cli/printer_options.h"
#include "cli/sheet_options.h"
#include "cli/trace_options.h"
#include "cli/unroll_options.h"
#include "cli/visit_options.h"

namespace potshadow {

// The file name that stands for standard output.
inline constexpr const char* kStandardOutput = "-";

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

using Command =
    std::variant<MeasureOptions, SheetOptions, CalibrateOptions, TraceOptions, ClayOptions,
                 PlanOptions, CheckOptions, CompareOptions, ExportOptions, PrinterOptions,
                 UnrollOptions, VisitOptions, WindowOptions, ShowText, WrongUsage>;

// Returns what the arguments ask for; `arguments` are without the program's name. Never prints. A
// first word that is no command is a file for the window; one without a dot or a slash must be
// there to be taken for a file, so that a mistyped command is told.
Command parse_arguments(const std::vector<std::string>& arguments);

}  // namespace potshadow

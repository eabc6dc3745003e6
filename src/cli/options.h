// SPDX-License-Identifier: MIT
// What the command line asks for, as plain values.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/check_options.h"
#include "cli/clay_options.h"
#include "cli/compare_options.h"
#include "cli/export_options.h"
#include "cli/plan_options.h"
#include "cli/printer_options.h"
#include "cli/sheet_options.h"
#include "cli/unroll_options.h"
#include "cli/visit_options.h"
#include "core/text.h"
#include "sheets/board_sheet.h"
#include "sheets/template_sheet.h"

namespace potshadow {

// The file name that stands for standard output.
inline constexpr const char* kStandardOutput = "-";

// A check of the intervals by redrawing, asked for with --monte-carlo.
struct RedrawOptions {
  int draws = 0;
  std::uint64_t seed = 1;
};

struct MeasureOptions {
  std::vector<std::string> projects;  // at least one
  std::string json_file;              // empty: not asked for; "-": standard output
  std::string csv_file;               // likewise; not both "-"
  LengthUnit unit = LengthUnit::kMm;
  std::optional<RedrawOptions> redraw;
  int jobs = 0;  // projects, or draws, worked out at once; 0: as many as the machine has cores
};

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

struct TraceOptions {
  std::string file;          // a project, or a photograph
  std::string project_file;  // where the project goes, of a photograph
  std::size_t photo = 0;     // index of the photograph in the project
  // Two opposite corners of the box; none: as the project has it from an earlier trace.
  std::optional<std::array<double, 4>> box_px;
  std::string box_text;  // the same as it was typed
  // Lines painted on the vessel, and on what is not it: places in pixels, and the same as typed.
  struct Stroke {
    bool vessel = true;
    std::vector<std::array<double, 2>> places_px;
    std::string text;
  };
  std::vector<Stroke> strokes;
  bool references = false;   // set the marks of references onto their edges, too
  std::string picture_file;  // write the photograph with what was found drawn over it
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

using Command =
    std::variant<MeasureOptions, SheetOptions, CalibrateOptions, TraceOptions, ClayOptions,
                 PlanOptions, CheckOptions, CompareOptions, ExportOptions, PrinterOptions,
                 UnrollOptions, VisitOptions, WindowOptions, ShowText, WrongUsage>;

// Returns what the arguments ask for; `arguments` are without the program's name. Never prints. A
// first word that is no command is a file for the window; one without a dot or a slash must be
// there to be taken for a file, so that a mistyped command is told.
Command parse_arguments(const std::vector<std::string>& arguments);

}  // namespace potshadow

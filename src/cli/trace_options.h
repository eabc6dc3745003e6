// SPDX-License-Identifier: MIT
// What 'potshadow trace' asks for, as plain values.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/typed_options.h"

namespace potshadow {

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

struct TraceHelp {
  std::string text;
};

// Returns what the arguments after "trace" ask for.
std::variant<TraceOptions, TraceHelp, UsageProblem> parse_trace_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

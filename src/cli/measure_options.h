// SPDX-License-Identifier: MIT
// What 'potshadow measure' asks for, as plain values.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "cli/typed_options.h"
#include "core/text.h"

namespace potshadow {

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

struct MeasureHelp {
  std::string text;
};

// Returns what the arguments after "measure" ask for.
std::variant<MeasureOptions, MeasureHelp, UsageProblem> parse_measure_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// What 'potshadow unroll' asks for, as plain values.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "cli/made_vessel.h"
#include "sheets/paper.h"

namespace potshadow {

enum class UnrolledParts {
  kWhole,   // the face as one picture
  kStrips,  // strips that keep to the wall
  kBands,   // the project's painted strips
  kTyped    // strips between typed heights
};

struct UnrollOptions {
  std::vector<std::string> arguments;  // as they were typed, without the command
  MadeOptions made;
  std::string output_file;
  bool pdf = false;  // else PNG
  UnrolledParts parts = UnrolledParts::kWhole;
  std::vector<std::pair<double, double>> heights_mm{};  // of the original, lower and upper edge
  bool all_round = false;                               // the parts that no photograph shows, too
  int repeats = 0;
  double front_deg = 0.0;  // to the right of where the first photograph looks
  std::optional<double> px_per_mm{};
  Paper paper = Paper::kA4;
  std::string printer{};
  std::optional<std::size_t> most_pages{};
};

struct UnrollHelp {
  std::string text;
};

// Returns what the arguments after "unroll" ask for.
std::variant<UnrollOptions, UnrollHelp, UsageProblem> parse_unroll_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// What 'potshadow clay' asks for, as plain values.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "clay/clay_body.h"
#include "cli/typed_options.h"
#include "sheets/template_sheet.h"

namespace potshadow {

struct ClayList {};

struct ClayHandbook {};

struct ClayShow {
  std::string record;
  std::optional<double> firing_c;
};

// Writes a new body into the book, or changes one; what is absent stays as it is.
struct ClayWrite {
  std::string record;
  std::optional<std::string> name;
  std::optional<std::string> note;
  std::optional<std::string> mix;
  std::optional<double> firing_c;
  std::optional<double> water_percent;
  std::vector<StatedShrinkage> stated;
};

// Adds a bar to a body, or more of what was measured to one that is there.
struct ClayBar {
  std::string record;
  std::optional<std::size_t> number;  // of the bar to change, from 1
  TestBar bar;
  std::optional<bool> used;
};

struct ClayRemove {
  std::string record;
  std::optional<std::size_t> number;  // of the bar; the whole body if absent
  std::optional<std::size_t> pot;     // a finished pot, counted from 1
};

struct ClayImport {
  std::string file;
  bool replace = false;
};

struct ClayExport {
  std::vector<std::string> records;  // all if empty
  std::string output_file;
};

struct ClaySheet {
  std::string output_file;
  Paper paper = Paper::kA4;
};

using ClayOptions = std::variant<ClayList, ClayHandbook, ClayShow, ClayWrite, ClayBar, ClayRemove,
                                 ClayImport, ClayExport, ClaySheet>;

struct ClayText {
  std::string text;  // asked for with --help
};

// Returns what the arguments after "clay" ask for.
std::variant<ClayOptions, ClayText, UsageProblem> parse_clay_arguments(
    const std::vector<std::string>& arguments);

}  // namespace potshadow

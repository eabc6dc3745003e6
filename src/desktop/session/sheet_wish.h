// SPDX-License-Identifier: MIT
// What is wanted on paper or for a machine, and the files it can become.
#pragma once

#include <chrono>
#include <memory>
#include <optional>
#include <string>

#include "clay/linear_shrinkage.h"
#include "core/result.h"
#include "core/text.h"
#include "project/clay_book.h"
#include "project/measure.h"
#include "project/print_settings.h"
#include "sheets/template_sheet.h"

namespace potshadow {

// How the painting is unrolled.
struct UnrollWish {
  bool picture = true;     // its parts alone are shown; else the sheets that they are printed on
  int repeats = 0;         // borders between so many repeats of a motif; 0: a band's own
  double front_deg = 0.0;  // in the middle, to the right of where the first photograph looks
  bool all_round = false;  // the whole girth; else as far round as the photographs show
  friend bool operator==(const UnrollWish&, const UnrollWish&) = default;
};

struct SheetWish {
  PrintSettings print{};
  Paper paper = Paper::kA4;
  LengthUnit unit = LengthUnit::kMm;
  Stage stage = Stage::kWet;  // of the pot that the sheets are for
  UnrollWish unroll{};
  bool filled = false;          // the solid is what the outside encloses, up to the rim
  int most_pages = kMostPages;  // of a kind of sheet
  friend bool operator==(const SheetWish&, const SheetWish&) = default;
};

// What the sheets are made from, beside the wish.
struct SheetSource {
  std::shared_ptr<const Measurement> measurement;  // its photographs named by their whole paths
  std::string file;                                // the project's
  PrinterScale printer{};                          // the wish's
  friend bool operator==(const SheetSource&, const SheetSource&) = default;
};

// All that a worker needs.
struct SheetOrder {
  SheetSource source;
  SheetWish wish;
  std::shared_ptr<const Result<ClayBook>> book;
  std::chrono::system_clock::time_point now;
  // When the project was last saved, if nothing was changed since: the date printed, else `now`.
  std::optional<std::chrono::system_clock::time_point> saved{};
};

}  // namespace potshadow

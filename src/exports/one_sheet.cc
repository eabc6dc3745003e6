// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "exports/flat_files.h"

namespace potshadow {
namespace {

constexpr double kGapMm = 10.0;
constexpr double kWidestMm = 600.0;  // a common laser's bed
constexpr double kCheckMm = 100.0;

void add(Pattern& sheet, const Pattern& piece) {
  sheet.paths.insert(sheet.paths.end(), piece.paths.begin(), piece.paths.end());
  sheet.areas.insert(sheet.areas.end(), piece.areas.begin(), piece.areas.end());
  sheet.texts.insert(sheet.texts.end(), piece.texts.begin(), piece.texts.end());
}

}  // namespace

Pattern on_one_sheet(const std::vector<Pattern>& pieces) {
  Pattern sheet;
  sheet.name = pieces.front().name;
  // The check line lies at the foot, with ticks at its ends.
  constexpr double kTickMm = 2.0;
  add_line(sheet, {0.0, 0.0}, {kCheckMm, 0.0}, PatternLine::kMark);
  for (const double x : {0.0, kCheckMm}) {
    add_line(sheet, {x, -kTickMm}, {x, kTickMm}, PatternLine::kMark);
  }
  add_text(sheet, "100 mm: measure this line before cutting", {0.0, 3.4}, 3.0);
  double x = 0.0;
  double y = kGapMm;  // rows of pieces upwards from here
  double row = 0.0;
  for (const Pattern& piece : pieces) {
    const PatternBox box = box_of(piece);
    if (x > 0.0 && x + box.width() > kWidestMm) {
      x = 0.0;
      y += row + kGapMm;
      row = 0.0;
    }
    add(sheet, moved(piece, x - box.left_mm, y - box.bottom_mm));
    x += box.width() + kGapMm;
    row = std::max(row, box.height());
  }
  return sheet;
}

}  // namespace potshadow

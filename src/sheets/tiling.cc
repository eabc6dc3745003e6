// SPDX-License-Identifier: MIT
#include "sheets/tiling.h"

#include <cmath>
#include <string_view>
#include <utility>

namespace potshadow {

double tiles_for(double length, double tile) {
  if (length <= tile) return 1.0;
  return 1.0 + std::ceil((length - tile) / (tile - kOverlapMm) - 1e-9);
}

std::string letter_for(std::size_t index) {
  constexpr std::string_view kLetters = "abcdefghjkmnpqrstuvwxyz";
  std::string letters(1, kLetters[index % kLetters.size()]);
  for (index /= kLetters.size(); index > 0; index /= kLetters.size()) {
    letters.insert(letters.begin(), kLetters[index % kLetters.size()]);
  }
  return letters;
}

std::string sheet_label(int row, int column) {
  // More rows than letters are far beyond kMostPages.
  return std::string(1, static_cast<char>('A' + row % 26)) + std::to_string(column + 1);
}

Stroke trim_line(PagePoint from, PagePoint to) {
  return {{from, to}, 0.25, 0.35, false, {0.6, 1.0}};
}

std::vector<Drawn> drawn_marks(const std::vector<RegistrationMark>& marks) {
  constexpr double kMarkRadiusMm = 2.5;
  std::vector<Drawn> items;
  for (const RegistrationMark& mark : marks) {
    const PagePoint& c = mark.at;
    Stroke circle{{}, 0.2, 0.0, true};
    constexpr int kCorners = 64;
    for (int i = 0; i < kCorners; ++i) {
      constexpr double kTurn = 6.283185307179586;
      const double angle = kTurn * i / kCorners;
      circle.points.push_back(
          {c.x_mm + kMarkRadiusMm * std::cos(angle), c.y_mm + kMarkRadiusMm * std::sin(angle)});
    }
    // White about the lines, so that they show on a picture too.
    for (const auto& [width, grey] : {std::pair{0.7, 1.0}, std::pair{0.2, 0.0}}) {
      circle.width_mm = width;
      circle.grey = grey;
      items.emplace_back(circle);
      items.emplace_back(
          line({c.x_mm - kMarkArmMm, c.y_mm}, {c.x_mm + kMarkArmMm, c.y_mm}, width, grey));
      items.emplace_back(
          line({c.x_mm, c.y_mm - kMarkArmMm}, {c.x_mm, c.y_mm + kMarkArmMm}, width, grey));
    }
    // Above and below the seam, so that it shows whichever sheet lies on top.
    for (const double y : {c.y_mm - 2.0, c.y_mm + 3.8}) {
      Label label{mark.letter, {c.x_mm + 2.4, y}};
      label.size_mm = 2.8;
      label.bold = true;
      items.emplace_back(label);
    }
  }
  return items;
}

}  // namespace potshadow

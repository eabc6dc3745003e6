// SPDX-License-Identifier: MIT
#include "unroll/strip_pattern.h"

#include <cstring>
#include <numbers>
#include <utility>

namespace potshadow {
namespace {

std::shared_ptr<const PatternPixels> pixels_of(const cv::Mat& bgra) {
  PatternPixels pixels{bgra.cols, bgra.rows, {}};
  const std::size_t row = static_cast<std::size_t>(bgra.cols) * bgra.elemSize();
  pixels.bgra.resize(row * static_cast<std::size_t>(bgra.rows));
  for (int y = 0; y < bgra.rows; ++y) {
    std::memcpy(pixels.bgra.data() + static_cast<std::size_t>(y) * row, bgra.ptr(y), row);
  }
  return std::make_shared<const PatternPixels>(std::move(pixels));
}

PatternPoint point(const FlatPoint& p) { return {p.x_mm, p.y_mm}; }

}  // namespace

Pattern strip_pattern(const Development& flat, const Unrolled& picture, int repeats,
                      const std::vector<double>& level_mm, const StripWords& words) {
  Pattern piece;
  piece.name = words.name;
  PatternPath edge{{}, PatternLine::kCut, true};
  for (const FlatPoint& p : flat.outline(kPatternToleranceMm)) edge.points.push_back(point(p));
  piece.paths.push_back(std::move(edge));
  piece.pictures.push_back(
      {pixels_of(picture.bgra),
       {picture.left_mm, picture.top_mm - picture.bgra.rows / picture.px_per_mm,
        picture.left_mm + picture.bgra.cols / picture.px_per_mm, picture.top_mm}});
  const auto upright = [&](double turn, PatternLine line) {
    const double azimuth = flat.front_rad + turn;
    add_line(piece, point(flat.flat({azimuth, flat.low_along_mm})),
             point(flat.flat({azimuth, flat.high_along_mm})), line);
  };
  upright(0.0, PatternLine::kCentre);
  for (int i = 0; i < repeats; ++i) {
    // Borders lie half a repeat from the centre line; one at the very back is the piece's own end.
    const double turn = (i + 0.5 - repeats / 2.0) * 2.0 * std::numbers::pi / repeats;
    if (std::abs(turn) < flat.half_turn_rad * (1.0 - 1e-9)) upright(turn, PatternLine::kMark);
  }
  for (const double along : level_mm) {
    if (along <= flat.low_along_mm || along >= flat.high_along_mm) continue;
    constexpr int kPieces = 180;
    PatternPath level{{}, PatternLine::kMark, false};
    for (int i = 0; i <= kPieces; ++i) {
      // Just short of the back, which is at both ends.
      const double turn = flat.half_turn_rad * (1.0 - 1e-9) * (2.0 * i / kPieces - 1.0);
      level.points.push_back(point(flat.flat({flat.front_rad + turn, along})));
    }
    piece.paths.push_back(std::move(level));
  }
  constexpr double kTextMm = 2.8;
  constexpr double kLineMm = 4.0;
  // At the left, where the first of two sheets holds all of it.
  const PatternBox box = box_of(piece);
  double y = box.bottom_mm - kLineMm;
  const auto write = [&](const std::string& line, bool bold) {
    PatternText& text = add_text(piece, line, {box.left_mm, y}, kTextMm);
    text.bold = bold;
    y -= kLineMm;
  };
  write(words.name, true);
  for (const std::string& line : words.about) write(line, false);
  return piece;
}

}  // namespace potshadow

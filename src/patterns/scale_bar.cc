// SPDX-License-Identifier: MIT
#include "patterns/scale_bar.h"

namespace potshadow::internal {

void draw_scale_bar(Pattern& out, double scale, const PatternPoint& top) {
  constexpr double kMmPerCm = 10.0;
  constexpr double kLongMm = 110.0;
  constexpr double kHighMm = 2.6;
  int cm = 20;
  while (cm > 1 && cm * kMmPerCm * scale > kLongMm) cm = cm == 20 ? 10 : cm == 10 ? 5 : 1;
  const double length = cm * kMmPerCm * scale;
  const double left = top.x_mm - length / 2.0;
  const double bottom = top.y_mm - kHighMm;
  const double cell = length / cm;
  for (int i = 0; i < cm; i += 2) {
    const double from = left + i * cell;
    const double to = from + cell;
    out.areas.push_back({{{from, bottom}, {to, bottom}, {to, top.y_mm}, {from, top.y_mm}}, true});
  }
  out.paths.push_back(
      {{{left, bottom}, {left + length, bottom}, {left + length, top.y_mm}, {left, top.y_mm}},
       PatternLine::kMark,
       true});
  const auto figure = [&](int at, const std::string& words) {
    PatternText& text = add_text(out, words, {left + at * cell, bottom - 3.6}, 2.8);
    text.align = PatternAlign::kCentre;
  };
  figure(0, "0");
  if (cm % 2 == 0 && cm > 2) figure(cm / 2, std::to_string(cm / 2));
  figure(cm, std::to_string(cm) + " cm");
}

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// What is drawn on a page, as plain values in millimetres: lines, areas and short texts.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/result.h"
#include "patterns/pattern.h"

// Frame: a page's origin is its top left corner, x runs right and y down, in millimetres. A grey of
// 0 is black and 1 is white. Whoever lays a page out makes these values and never touches a
// drawing library, so that tests can compare millimetres.
namespace potshadow {

struct PagePoint {
  double x_mm = 0.0;
  double y_mm = 0.0;
  friend bool operator==(const PagePoint&, const PagePoint&) = default;
};

struct PageBox {
  double left_mm = 0.0;
  double top_mm = 0.0;
  double right_mm = 0.0;
  double bottom_mm = 0.0;
  double width() const { return right_mm - left_mm; }
  double height() const { return bottom_mm - top_mm; }
  friend bool operator==(const PageBox&, const PageBox&) = default;
};

// A line through points; the line's middle is the place meant.
struct Stroke {
  std::vector<PagePoint> points;
  double width_mm = 0.2;
  double grey = 0.0;
  bool closed = false;
  std::vector<double> dash_mm{};  // on, off, on, off ...; empty draws it whole
};

// A filled area without an outline.
struct Area {
  std::vector<PagePoint> points;
  double grey = 0.0;
};

enum class Align { kLeft, kCentre, kRight };

// One line of text. Longer than `most_width_mm` it is cut short and ends in "…".
struct Label {
  std::string text;  // UTF-8; what cannot be printed becomes "?"
  PagePoint at;      // on the base line of the letters
  double size_mm = 3.0;
  Align align = Align::kLeft;
  double most_width_mm = 180.0;
  double grey = 0.0;
  bool bold = false;
  bool upwards = false;  // turned a quarter anticlockwise: reads from bottom to top
  bool tabular = false;  // every digit takes the same room
};

// A picture that fills a box.
struct Pixels {
  std::shared_ptr<const PatternPixels> pixels;
  PageBox box;
};

using Drawn = std::variant<Stroke, Area, Label, Pixels>;

// Things drawn in order; where `clip` is given, nothing outside it shows.
struct DrawnGroup {
  std::optional<PageBox> clip;
  std::vector<Drawn> items;
};

struct PageDrawing {
  double width_mm = 0.0;
  double height_mm = 0.0;
  std::vector<DrawnGroup> groups;
  double stretch_x = 1.0;  // what is written is so many times as long as it is drawn: see paper.h
  double stretch_y = 1.0;
};

// Returns the filled rectangle of a box.
Area filled(const PageBox& box, double grey);
// Returns the outline of a box.
Stroke outlined(const PageBox& box, double width_mm, double grey);
// Returns the straight line between two places.
Stroke line(PagePoint from, PagePoint to, double width_mm, double grey);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A pattern: one piece to cut out, with what is marked and written on it, as plain values.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/units.h"

// Frame: x to the right, y UP, in millimetres at true size. What is cut, marked and written stays
// apart, for a laser or a plotter treats each in its own way. Curves are runs of straight pieces
// that keep within kPatternToleranceMm of the curve meant.
namespace potshadow {

inline constexpr double kPatternToleranceMm = 0.01;

struct PatternPoint {
  double x_mm = 0.0;
  double y_mm = 0.0;
  friend bool operator==(const PatternPoint&, const PatternPoint&) = default;
};

enum class PatternLine {
  kCut,     // the edge to cut along
  kBold,    // the outline of what is drawn, not to be cut
  kMark,    // a line on the piece
  kFaint,   // a line that must not distract: levels, ends of intervals
  kCentre,  // the axis, dashed and dotted
  kDashed   // the outline of what is compared with another
};

struct PatternPath {
  std::vector<PatternPoint> points;
  PatternLine line = PatternLine::kMark;
  bool closed = false;
};

// A filled area on paper; files for machines have its outline, or the fill where it is `solid`.
struct PatternArea {
  std::vector<PatternPoint> points;
  bool solid = false;  // black; else the light grey of an interval
};

struct PatternBox {
  double left_mm = 0.0;
  double bottom_mm = 0.0;
  double right_mm = 0.0;
  double top_mm = 0.0;
  double width() const { return right_mm - left_mm; }
  double height() const { return top_mm - bottom_mm; }
};

// Pixels, rows from the top, four bytes each: blue, green, red and how far it covers; the colours
// are not multiplied by that.
struct PatternPixels {
  int width_px = 0;
  int height_px = 0;
  std::vector<std::uint8_t> bgra;
};

// A picture on a piece, above its areas and below its lines. On paper only.
struct PatternPicture {
  std::shared_ptr<const PatternPixels> pixels;
  PatternBox box;
};

enum class PatternAlign { kLeft, kCentre, kRight };

// One line of text, UTF-8; `at` lies on the base line of its letters.
struct PatternText {
  std::string words;
  PatternPoint at;
  double size_mm = 2.8;
  PatternAlign align = PatternAlign::kLeft;
  bool bold = false;
  bool quiet = false;    // need not catch the eye
  bool upwards = false;  // reads from bottom to top
  double most_width_mm = 180.0;
};

struct Pattern {
  std::string name;  // "Ring for the neck", one line
  std::vector<PatternPath> paths{};
  std::vector<PatternArea> areas{};
  std::vector<PatternText> texts{};
  std::vector<PatternPicture> pictures{};
};

// Returns the box of all lines, areas and pictures, and as high as the texts stand; how far they
// run is not known here, so they are expected to keep within it. Requires a point.
PatternBox box_of(const Pattern& pattern);

// Returns the pattern moved, or turned over left to right with its texts still readable; the latter
// for patterns without pictures.
Pattern moved(Pattern pattern, double dx_mm, double dy_mm);
Pattern mirrored(Pattern pattern);

// Returns it turned a quarter anticlockwise, or nothing where a text would stand on its head.
std::optional<Pattern> quarter_turned(const Pattern& pattern);

// Returns the wanted places moved as little as keeps them `apart` and at most `most`, in their
// order; `wanted` rises.
std::vector<double> spread(const std::vector<double>& wanted, double apart, double most);

// Adds a straight line; a text.
void add_line(Pattern& pattern, PatternPoint from, PatternPoint to, PatternLine line);
PatternText& add_text(Pattern& pattern, std::string words, PatternPoint at, double size_mm);

}  // namespace potshadow

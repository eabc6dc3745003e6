// SPDX-License-Identifier: MIT
#include "sheets/drawn_pattern.h"

#include <utility>

namespace potshadow {
namespace {

constexpr double kCutLineMm = 0.35;
constexpr double kBoldLineMm = 0.4;
constexpr double kFineLineMm = 0.18;
constexpr double kBandGrey = 0.88;
constexpr double kFaintGrey = 0.75;
constexpr double kCentreGrey = 0.3;
constexpr double kQuietGrey = 0.35;

Align align_of(PatternAlign align) {
  switch (align) {
    case PatternAlign::kCentre:
      return Align::kCentre;
    case PatternAlign::kRight:
      return Align::kRight;
    case PatternAlign::kLeft:
      break;
  }
  return Align::kLeft;
}

void style(PatternLine line, Stroke& stroke) {
  stroke.width_mm = kFineLineMm;
  switch (line) {
    case PatternLine::kCut:
      stroke.width_mm = kCutLineMm;
      break;
    case PatternLine::kBold:
      stroke.width_mm = kBoldLineMm;
      break;
    case PatternLine::kFaint:
      stroke.grey = kFaintGrey;
      break;
    case PatternLine::kCentre:
      stroke.grey = kCentreGrey;
      stroke.dash_mm = {7.0, 1.4, 0.8, 1.4};
      break;
    case PatternLine::kDashed:
      stroke.width_mm = kBoldLineMm;
      stroke.dash_mm = {2.4, 1.2};
      break;
    case PatternLine::kMark:
      break;
  }
}

}  // namespace

std::vector<Drawn> drawn_pattern(const Pattern& pattern, PagePoint origin) {
  const auto at = [&](const PatternPoint& p) {
    return PagePoint{origin.x_mm + p.x_mm, origin.y_mm - p.y_mm};
  };
  const auto all = [&](const std::vector<PatternPoint>& points) {
    std::vector<PagePoint> out;
    out.reserve(points.size());
    for (const PatternPoint& p : points) out.push_back(at(p));
    return out;
  };
  std::vector<Drawn> items;
  for (const PatternArea& area : pattern.areas) {
    items.emplace_back(Area{all(area.points), area.solid ? 0.0 : kBandGrey});
  }
  for (const PatternPicture& picture : pattern.pictures) {
    const PagePoint corner = at({picture.box.left_mm, picture.box.top_mm});
    items.emplace_back(Pixels{picture.pixels,
                              {corner.x_mm, corner.y_mm, corner.x_mm + picture.box.width(),
                               corner.y_mm + picture.box.height()}});
  }
  for (const PatternPath& path : pattern.paths) {
    Stroke stroke;
    stroke.points = all(path.points);
    stroke.closed = path.closed;
    style(path.line, stroke);
    items.emplace_back(std::move(stroke));
  }
  for (const PatternText& text : pattern.texts) {
    Label label{text.words, at(text.at)};
    label.size_mm = text.size_mm;
    label.align = align_of(text.align);
    label.bold = text.bold;
    label.upwards = text.upwards;
    label.tabular = true;
    label.most_width_mm = text.most_width_mm;
    if (text.quiet) label.grey = kQuietGrey;
    items.emplace_back(std::move(label));
  }
  return items;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The drawing that archaeologists make of a vessel: a centre line, left of it the wall cut through
// and the inside, right of it the outside, and a scale bar. Source: L. Collett, CIfA Paper 10 (the
// convention, from memory).
#include <algorithm>
#include <cmath>

#include "patterns/curves.h"
#include "patterns/inner_face.h"
#include "patterns/pieces.h"
#include "patterns/scale_bar.h"

namespace potshadow::internal {
namespace {

std::vector<ProfilePoint> scaled(std::vector<ProfilePoint> points, double scale) {
  for (ProfilePoint& p : points) p = {p.radius_mm * scale, p.height_mm * scale};
  return points;
}

// The line, or the closed outline, as far as it lies no higher than the rim: the drawing's lip is
// level, where a wall of even thickness would slant. (Sutherland & Hodgman's clipping by one edge,
// Communications of the ACM 17(1), 1974, from memory.)
std::vector<ProfilePoint> below_rim(const std::vector<ProfilePoint>& points, double rim_mm,
                                    bool closed) {
  std::vector<ProfilePoint> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const ProfilePoint& p = points[i];
    const bool first = i == 0;
    if (!first || closed) {
      const ProfilePoint& q = points[first ? points.size() - 1 : i - 1];
      if ((q.height_mm > rim_mm) != (p.height_mm > rim_mm)) {
        const double part = (rim_mm - q.height_mm) / (p.height_mm - q.height_mm);
        out.push_back({q.radius_mm + part * (p.radius_mm - q.radius_mm), rim_mm});
      }
    }
    if (!(p.height_mm > rim_mm)) out.push_back(p);
  }
  return out;
}

}  // namespace

Result<std::vector<Pattern>> section_pieces(const PatternVessel& vessel,
                                            const PatternChoices& choices) {
  const double scale = choices.section_scale;
  const double shrunk = 1.0 / vessel.shrinkage.enlargement();
  const WallThickness wall{vessel.wall.foot_mm * shrunk, vessel.wall.rim_mm * shrunk};
  const Result<std::vector<ProfilePoint>> section =
      wall_section(vessel.fired, wall, kPatternToleranceMm);
  if (!section) return section.problem();
  const Result<std::vector<ProfilePoint>> face = inner_face(vessel.fired, wall);
  if (!face) return face.problem();
  const Result<TotalShrinkage> none = TotalShrinkage::from_percent_of_wet(0.0, 0.0);
  if (!none) return none.problem();
  const Result<std::vector<BandPoint>> band = band_points(vessel.band, *none);
  if (!band) return band.problem();

  Pattern out;
  out.name = "Section drawing";
  if (!band->empty()) {
    out.areas.push_back({pattern_points(scaled(band_outline(*band), scale)), false});
  }
  const std::vector<ProfilePoint> outer = scaled(traced(vessel.fired, kPatternToleranceMm), scale);
  const ProfilePoint& rim = outer.back();
  double top = 0.0;
  for (const ProfilePoint& p : outer) top = std::max(top, p.height_mm);
  PatternArea cut{pattern_points(below_rim(scaled(*section, scale), top, true)), true};
  for (PatternPoint& p : cut.points) p.x_mm = -p.x_mm;
  out.areas.push_back(std::move(cut));
  // The outside, closed by the rim's line and the bench.
  out.paths.push_back({pattern_points(outer), PatternLine::kBold, false});
  add_line(out, {0.0, rim.height_mm}, {rim.radius_mm, rim.height_mm}, PatternLine::kBold);
  if (outer.front().radius_mm > 0.0) {
    add_line(out, {0.0, outer.front().height_mm},
             {outer.front().radius_mm, outer.front().height_mm}, PatternLine::kBold);
  }
  // The far edge of the mouth, seen inside.
  const ProfilePoint lip = below_rim(scaled(*face, scale), top, false).back();
  add_line(out, {-lip.radius_mm, lip.height_mm}, {0.0, lip.height_mm}, PatternLine::kBold);
  add_line(out, {0.0, 0.0}, {0.0, std::max(top, lip.height_mm)}, PatternLine::kMark);

  constexpr double kBelowMm = 9.0;
  draw_scale_bar(out, scale, {0.0, -kBelowMm});
  double y = -kBelowMm - 13.0;
  for (const std::string& line : vessel.original_sizes) {
    PatternText& text = add_text(out, line, {0.0, y}, 2.8);
    text.align = PatternAlign::kCentre;
    y -= 4.4;
  }
  return std::vector<Pattern>{std::move(out)};
}

}  // namespace potshadow::internal

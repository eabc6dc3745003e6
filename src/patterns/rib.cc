// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <limits>

#include "patterns/curves.h"
#include "patterns/inner_face.h"
#include "patterns/pieces.h"

namespace potshadow::internal {
namespace {

constexpr double kLeastWidthMm = 8.0;  // where the rib ends above and below, it is still this wide
constexpr double kOfUseMm = 15.0;      // a rib narrower than this all over is none
constexpr double kThroughMouthMm = 6.0;  // to spare on its way through the mouth
constexpr double kHoleMm = 22.0;         // for a finger

struct RibShape {
  std::size_t first = 0;  // of the inner face
  std::size_t last = 0;
  double back_mm = 0.0;   // radius of its straight back
  double mouth_mm = 0.0;  // least radius above its widest place
};

// The longest run of the inner face round its widest place that stands off the back.
Result<RibShape> shape_of(const std::vector<ProfilePoint>& face) {
  const auto widest = static_cast<std::size_t>(
      std::max_element(face.begin(), face.end(),
                       [](const auto& a, const auto& b) { return a.radius_mm < b.radius_mm; }) -
      face.begin());
  RibShape shape;
  shape.mouth_mm = face[widest].radius_mm;
  for (std::size_t i = widest; i < face.size(); ++i) {
    shape.mouth_mm = std::min(shape.mouth_mm, face[i].radius_mm);
  }
  const double most = 2.0 * shape.mouth_mm - kThroughMouthMm;
  if (most < kOfUseMm) {
    return Problem{Code::kCannotBeAnswered,
                   "The mouth is " + fixed_text(2.0 * shape.mouth_mm, 0) +
                       " mm wide inside, too narrow for a rib to go through.",
                   "Use the profile gauge from outside, or give a thinner wall.", ""};
  }
  shape.back_mm = std::max(0.0, face[widest].radius_mm - most);
  const double least = shape.back_mm + (shape.back_mm > 0.0 ? kLeastWidthMm : 0.0);
  shape.first = widest;
  shape.last = widest;
  while (shape.first > 0 && face[shape.first - 1].radius_mm >= least) --shape.first;
  while (shape.last + 1 < face.size() && face[shape.last + 1].radius_mm >= least) ++shape.last;
  return shape;
}

// The interval of the outer face, moved to the inner one.
std::vector<ProfilePoint> inner_band(const std::vector<BandPoint>& points,
                                     const std::vector<ProfilePoint>& face) {
  std::vector<BandPoint> inside;
  // Each point of the face takes the interval of the outer point it was moved from: the nearest.
  for (std::size_t i = 0; i + 1 < face.size(); ++i) {
    const ProfilePoint& a = face[i];
    const double dr = face[i + 1].radius_mm - a.radius_mm;
    const double dz = face[i + 1].height_mm - a.height_mm;
    const double length = std::hypot(dr, dz);
    if (!(length > 0.0)) continue;
    double least = std::numeric_limits<double>::max();
    double half = 0.0;
    for (const BandPoint& p : points) {
      const double off = std::hypot(p.at.radius_mm - a.radius_mm, p.at.height_mm - a.height_mm);
      if (off < least) {
        least = off;
        half = p.half_mm;
      }
    }
    inside.push_back({a, {dz / length, -dr / length}, half});
  }
  return band_outline(inside);
}

}  // namespace

Result<std::vector<Pattern>> rib_pieces(const PatternVessel& vessel,
                                        const PatternChoices& choices) {
  const Result<std::vector<ProfilePoint>> face = inner_face(vessel.to_make(), vessel.wall);
  if (!face) return face.problem();
  const Result<RibShape> shape = shape_of(*face);
  if (!shape) return shape.problem();
  if (choices.whole && shape->back_mm > 0.0) {
    return Problem{Code::kCannotBeAnswered,
                   "A whole rib would not come out through the mouth, which is narrower than the "
                   "vessel inside.",
                   "Leave --whole away: the half rib goes through.", ""};
  }
  const std::vector<ProfilePoint> run{face->begin() + static_cast<std::ptrdiff_t>(shape->first),
                                      face->begin() + static_cast<std::ptrdiff_t>(shape->last) + 1};
  const std::vector<ProfilePoint> edge = simplified(run, kPatternToleranceMm);
  const double low = edge.front().height_mm;
  const double high = edge.back().height_mm;
  Pattern rib;
  rib.name = "Inside rib";
  const Result<std::vector<BandPoint>> band = band_points(vessel.band, vessel.shrinkage);
  if (!band) return band.problem();
  if (!band->empty()) {
    const std::vector<ProfilePoint> coarse = simplified(run, 0.05);
    rib.areas.push_back({pattern_points(inner_band(*band, coarse)), false});
  }
  std::vector<PatternPoint> cut = pattern_points(edge);
  if (choices.whole) {
    const std::vector<PatternPoint> right = cut;
    for (auto p = right.rbegin(); p != right.rend(); ++p) cut.push_back({-p->x_mm, p->y_mm});
    const std::size_t areas = rib.areas.size();
    for (std::size_t i = 0; i < areas; ++i) {
      PatternArea other = rib.areas[i];
      for (PatternPoint& p : other.points) p.x_mm = -p.x_mm;
      rib.areas.push_back(std::move(other));
    }
    add_line(rib, {0.0, low}, {0.0, high}, PatternLine::kCentre);
  } else {
    cut.push_back({shape->back_mm, high});
    cut.push_back({shape->back_mm, low});
  }
  rib.paths.push_back({std::move(cut), PatternLine::kCut, true});
  // The hole and the words stand where the rib is widest.
  const auto widest = std::max_element(edge.begin(), edge.end(), [](const auto& a, const auto& b) {
    return a.radius_mm < b.radius_mm;
  });
  const double width = widest->radius_mm - shape->back_mm;
  const double middle = choices.whole ? 0.0 : shape->back_mm + 0.45 * width;
  constexpr double kHolePartOfWidth = 0.45;
  const bool hole = kHoleMm < kHolePartOfWidth * width && high - low > 3.0 * kHoleMm;
  const double hole_at = std::clamp(widest->height_mm, low + kHoleMm, high - kHoleMm);
  if (hole && !choices.whole) {
    rib.paths.push_back(circle_path({middle, hole_at}, kHoleMm / 2.0, PatternLine::kCut));
  }
  constexpr double kInMm = 4.0;
  PatternText& words = add_text(rib, vessel.words, {shape->back_mm + kInMm + 1.0, low + 5.0}, 2.8);
  words.upwards = true;
  words.quiet = true;
  words.most_width_mm = high - low - 8.0;
  if (choices.whole) words.at.x_mm = -kInMm;
  if (shape->first == 0) {
    add_text(rib, "floor",
             {std::max(shape->back_mm + 9.0, edge.front().radius_mm - 14.0), low + 1.6}, 2.6)
        .bold = true;
  }
  if (shape->last + 1 == face->size()) {
    PatternText& rim = add_text(rib, "rim", {edge.back().radius_mm - 3.0, high - 4.4}, 2.6);
    rim.bold = true;
    rim.align = PatternAlign::kRight;
  }
  // Held against the left wall in the left hand, and so on.
  if (choices.left_handed) rib = mirrored(std::move(rib));
  return std::vector<Pattern>{std::move(rib)};
}

}  // namespace potshadow::internal

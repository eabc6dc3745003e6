// SPDX-License-Identifier: MIT
#include "unroll/development.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace potshadow {
namespace {

constexpr double kStraight = 1e-9;  // sines below it make a rectangle
constexpr double kLeastStripMm = 1.0;

Development straight_between(const PaintedFace& face, double low_along, double high_along,
                             const Enlargement& made, double front_rad) {
  constexpr int kLooks = 64;
  const auto at = [&](double along) {
    const ProfilePoint p = face.profile_at(along);
    return ProfilePoint{made.across * p.radius_mm, made.upright * p.height_mm};
  };
  const ProfilePoint low = at(low_along);
  const ProfilePoint high = at(high_along);
  const double across = high.radius_mm - low.radius_mm;
  const double up = high.height_mm - low.height_mm;
  const double slant = std::hypot(across, up);
  Development strip;
  strip.front_rad = front_rad;
  strip.half_turn_rad = std::numbers::pi;
  strip.low_along_mm = low_along;
  strip.high_along_mm = high_along;
  strip.low_radius_mm = low.radius_mm;
  strip.high_radius_mm = high.radius_mm;
  strip.slant_mm = slant;
  for (int i = 1; i < kLooks && slant > 0.0; ++i) {
    const ProfilePoint p =
        at(low_along + (high_along - low_along) * i / static_cast<double>(kLooks));
    const double off =
        ((p.radius_mm - low.radius_mm) * up - (p.height_mm - low.height_mm) * across) / slant;
    strip.bulge_mm = std::max(strip.bulge_mm, std::abs(off));
  }
  return strip;
}

}  // namespace

FlatPoint Development::flat(const FaceSpot& spot) const {
  const double turn = std::remainder(spot.azimuth_rad - front_rad, 2.0 * std::numbers::pi);
  const double up = slant_mm * (spot.along_mm - low_along_mm) / (high_along_mm - low_along_mm);
  const double k = sine();
  if (std::abs(k) < kStraight) return {low_radius_mm * turn, up};
  const double apex = low_radius_mm / k;
  const double reach = apex + up;
  return {reach * std::sin(k * turn), reach * std::cos(k * turn) - apex};
}

FaceSpot Development::spot(const FlatPoint& at) const {
  const double k = sine();
  double turn = at.x_mm / low_radius_mm;
  double up = at.y_mm;
  if (std::abs(k) >= kStraight) {
    const double apex = low_radius_mm / k;
    const double side = k > 0.0 ? 1.0 : -1.0;
    const double dy = at.y_mm + apex;
    turn = std::atan2(side * at.x_mm, side * dy) / k;
    up = side * std::hypot(at.x_mm, dy) - apex;
  }
  return {front_rad + turn, low_along_mm + (high_along_mm - low_along_mm) * up / slant_mm};
}

bool Development::holds(const FaceSpot& spot) const {
  return std::abs(spot.azimuth_rad - front_rad) <= half_turn_rad && spot.along_mm >= low_along_mm &&
         spot.along_mm <= high_along_mm;
}

std::vector<FlatPoint> Development::outline(double tolerance_mm) const {
  // The sagitta of a piece of arc of the radius R and the angle a is R a^2 / 8.
  const double angle = angle_rad();
  const double arc = angle > kStraight ? std::max(low_arc_mm(), high_arc_mm()) : 0.0;
  const double pieces = angle > kStraight ? angle / std::sqrt(8.0 * tolerance_mm / arc) : 1.0;
  const int count = std::max(1, static_cast<int>(std::ceil(pieces)));
  std::vector<FlatPoint> points;
  const auto edge = [&](double along, double from, double to) {
    for (int i = 0; i <= count; ++i) {
      const double turn = from + (to - from) * i / count;
      // Not through remainder(): the two ends are one azimuth.
      Development open = *this;
      open.front_rad = 0.0;
      points.push_back(open.flat({std::clamp(turn, -std::numbers::pi, std::numbers::pi), along}));
    }
  };
  edge(low_along_mm, -half_turn_rad, half_turn_rad);
  edge(high_along_mm, half_turn_rad, -half_turn_rad);
  return points;
}

Development whole_face(const PaintedFace& face, const Enlargement& made, double front_rad) {
  Development whole;
  whole.front_rad = front_rad;
  whole.half_turn_rad = std::numbers::pi;
  whole.high_along_mm = face.length_mm();
  whole.low_radius_mm = whole.high_radius_mm = made.across * face.widest_radius_mm();
  // The wall's length on the pot to make.
  constexpr int kPieces = 400;
  for (int i = 1; i <= kPieces; ++i) {
    const ProfilePoint a = face.profile_at(face.length_mm() * (i - 1) / kPieces);
    const ProfilePoint b = face.profile_at(face.length_mm() * i / kPieces);
    whole.slant_mm += std::hypot(made.across * (b.radius_mm - a.radius_mm),
                                 made.upright * (b.height_mm - a.height_mm));
  }
  return whole;
}

Result<Development> strip_between(const PaintedFace& face, double low_along_mm,
                                  double high_along_mm, const Enlargement& made, double front_rad) {
  const Development strip = straight_between(face, low_along_mm, high_along_mm, made, front_rad);
  if (!(high_along_mm - low_along_mm >= kLeastStripMm) || !(strip.slant_mm >= kLeastStripMm) ||
      !(strip.low_radius_mm > 0.0)) {
    return Problem{Code::kBadValue,
                   "A strip needs two lines on the wall, at least a millimetre apart.",
                   "Give the lower line first, and heights between the foot and the rim.", ""};
  }
  return strip;
}

std::vector<Development> strips_over(const PaintedFace& face, const Enlargement& made,
                                     double front_rad, double most_bulge_mm) {
  // A round base's strips begin off the axis, where a strip would be a disc.
  double low = 0.0;
  while (low < face.length_mm() && !(face.profile_at(low).radius_mm > kLeastStripMm)) {
    low += kLeastStripMm;
  }
  std::vector<Development> strips;
  while (face.length_mm() - low >= kLeastStripMm) {
    // The longest strip from here that still keeps to the wall.
    double near = low + kLeastStripMm;
    double far = face.length_mm();
    if (straight_between(face, low, far, made, front_rad).bulge_mm > most_bulge_mm) {
      constexpr double kFine = 0.1;
      while (far - near > kFine) {
        const double middle = (near + far) / 2.0;
        const bool keeps =
            straight_between(face, low, middle, made, front_rad).bulge_mm <= most_bulge_mm;
        (keeps ? near : far) = middle;
      }
      far = near;
    }
    if (face.length_mm() - far < kLeastStripMm) far = face.length_mm();
    strips.push_back(straight_between(face, low, far, made, front_rad));
    low = far;
  }
  // A sliver at the rim is shared with the strip below it, as evenly as the wall allows.
  if (strips.size() < 2) return strips;
  const double start = strips[strips.size() - 2].low_along_mm;
  const double border = strips.back().low_along_mm;
  for (const double even : {0.5, 0.6, 0.7, 0.8}) {
    const double middle = start + even * (face.length_mm() - start);
    if (middle >= border) break;
    const Development last = straight_between(face, middle, face.length_mm(), made, front_rad);
    if (last.bulge_mm > most_bulge_mm) continue;
    strips[strips.size() - 2] = straight_between(face, start, middle, made, front_rad);
    strips.back() = last;
    break;
  }
  return strips;
}

}  // namespace potshadow

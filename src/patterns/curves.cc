// SPDX-License-Identifier: MIT
#include "patterns/curves.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "core/check.h"

namespace potshadow {
namespace {

// Steps this fine leave some 0.001 mm between a profile of 600 mm and its samples.
constexpr std::size_t kSamples = 4001;

double distance_to(const ProfilePoint& p, const ProfilePoint& a, const ProfilePoint& b) {
  const double dr = b.radius_mm - a.radius_mm;
  const double dz = b.height_mm - a.height_mm;
  const double length2 = dr * dr + dz * dz;
  double t = 0.0;
  if (length2 > 0.0) {
    t = ((p.radius_mm - a.radius_mm) * dr + (p.height_mm - a.height_mm) * dz) / length2;
    t = std::clamp(t, 0.0, 1.0);
  }
  return std::hypot(p.radius_mm - a.radius_mm - t * dr, p.height_mm - a.height_mm - t * dz);
}

}  // namespace

std::vector<ProfilePoint> traced(const Profile& profile, double tolerance_mm) {
  return simplified(profile.sampled(kSamples), tolerance_mm);
}

std::vector<ProfilePoint> simplified(const std::vector<ProfilePoint>& points, double tolerance_mm) {
  POTSHADOW_CHECK(tolerance_mm > 0.0);
  if (points.size() < 3) return points;
  std::vector<bool> kept(points.size(), false);
  kept.front() = true;
  kept.back() = true;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, points.size() - 1}};
  while (!open.empty()) {
    const auto [first, last] = open.back();
    open.pop_back();
    double most = tolerance_mm;
    std::size_t worst = first;
    for (std::size_t i = first + 1; i < last; ++i) {
      const double off = distance_to(points[i], points[first], points[last]);
      if (off <= most) continue;
      most = off;
      worst = i;
    }
    if (worst == first) continue;
    kept[worst] = true;
    open.emplace_back(first, worst);
    open.emplace_back(worst, last);
  }
  std::vector<ProfilePoint> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (kept[i]) out.push_back(points[i]);
  }
  return out;
}

int pieces_of_circle(double radius_mm, double tolerance_mm) {
  constexpr int kFewest = 24;
  if (!(radius_mm > tolerance_mm)) return kFewest;
  // The height of an arc over its chord is r (1 - cos(half its angle)).
  const double half = std::acos(1.0 - tolerance_mm / radius_mm);
  return std::max(kFewest, static_cast<int>(std::ceil(std::numbers::pi / half)));
}

std::vector<PatternPoint> arc_points(double radius_mm, const ArcRange& range) {
  constexpr double kWholeDeg = 360.0;
  const auto [from_deg, to_deg] = range;
  const double share = std::abs(to_deg - from_deg) / kWholeDeg;
  const int pieces = std::max(
      1, static_cast<int>(std::ceil(share * pieces_of_circle(radius_mm, kPatternToleranceMm))));
  std::vector<PatternPoint> points;
  for (int i = 0; i <= pieces; ++i) {
    const double deg = from_deg + (to_deg - from_deg) * i / pieces;
    const double angle = deg * std::numbers::pi / 180.0;
    points.push_back({radius_mm * std::cos(angle), radius_mm * std::sin(angle)});
  }
  return points;
}

PatternPath circle_path(PatternPoint centre, double radius_mm, PatternLine line) {
  PatternPath path{arc_points(radius_mm, {}), line, true};
  path.points.pop_back();  // the first again
  for (PatternPoint& p : path.points) p = {p.x_mm + centre.x_mm, p.y_mm + centre.y_mm};
  return path;
}

}  // namespace potshadow

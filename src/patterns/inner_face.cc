// SPDX-License-Identifier: MIT
#include "patterns/inner_face.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "patterns/curves.h"

namespace potshadow {
namespace {

// A point this little nearer to the outer face than the wall is thick still counts as lying on the
// inner one: half a step of the wall's points on a curve.
constexpr double kSlackMm = 0.02;

double thickness_at(const WallThickness& wall, double height, double top) {
  const double part = std::clamp(height / top, 0.0, 1.0);
  return wall.foot_mm + part * (wall.rim_mm - wall.foot_mm);
}

double distance_to_outer(const Wall& wall, const ProfilePoint& p) {
  double least2 = 1e300;
  for (const ProfilePoint& q : wall.outer) {
    const double dr = p.radius_mm - q.radius_mm;
    const double dz = p.height_mm - q.height_mm;
    least2 = std::min(least2, dr * dr + dz * dz);
  }
  return std::sqrt(least2);
}

}  // namespace

Result<std::vector<ProfilePoint>> inner_face(const Profile& profile,
                                             const WallThickness& thickness) {
  const Result<Wall> wall = wall_of(profile, thickness);
  if (!wall) return wall.problem();
  double top = 0.0;
  for (const ProfilePoint& p : wall->outer) top = std::max(top, p.height_mm);
  const bool flat = wall->outer.front().radius_mm > 0.0;
  const double floor = flat ? thickness.foot_mm : wall->inner.front().height_mm;
  std::vector<ProfilePoint> face;
  ProfilePoint below{};
  for (std::size_t i = 0; i < wall->inner.size(); ++i) {
    const ProfilePoint& p = wall->inner[i];
    const double thick = thickness_at(thickness, wall->outer[i].height_mm, top);
    if (p.height_mm < floor) {
      // Only before the wall has risen from the floor.
      if (face.empty()) below = p;
      continue;
    }
    if (distance_to_outer(*wall, p) < thick - kSlackMm) continue;
    if (face.empty() && flat) {
      double radius = p.radius_mm;
      if (i > 0 && p.height_mm > floor && below.height_mm < p.height_mm) {
        const double part = (floor - below.height_mm) / (p.height_mm - below.height_mm);
        radius = below.radius_mm + part * (p.radius_mm - below.radius_mm);
      }
      face.push_back({radius, floor});
    }
    if (face.empty() || !(face.back() == p)) face.push_back(p);
  }
  constexpr std::size_t kFewest = 3;
  if (face.size() < kFewest) {
    return Problem{Code::kBadValue, "The wall is so thick that it leaves no inner face.",
                   "Give a thinner wall, or check the vessel's size.", ""};
  }
  if (!flat) face.front().radius_mm = 0.0;
  return face;
}

Result<std::vector<ProfilePoint>> wall_section(const Profile& profile,
                                               const WallThickness& thickness,
                                               double tolerance_mm) {
  const Result<std::vector<ProfilePoint>> inner = inner_face(profile, thickness);
  if (!inner) return inner.problem();
  std::vector<ProfilePoint> section;
  std::vector<ProfilePoint> outer = traced(profile, tolerance_mm);
  if (outer.front().radius_mm > 0.0) section.push_back({0.0, outer.front().height_mm});
  section.insert(section.end(), outer.begin(), outer.end());
  std::vector<ProfilePoint> face = simplified(*inner, tolerance_mm);
  section.insert(section.end(), face.rbegin(), face.rend());
  if (section.back().radius_mm > 0.0) section.push_back({0.0, section.back().height_mm});
  return section;
}

}  // namespace potshadow

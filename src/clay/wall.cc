// SPDX-License-Identifier: MIT
#include "clay/wall.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kThinnestMm = 1.0;  // nobody builds thinner

Problem too_thick(double thickness, double height) {
  return {Code::kBadValue,
          "A wall of " + fixed_text(thickness, 1) +
              " mm is thicker than the vessel's radius at a "
              "height of " +
              fixed_text(height, 0) + " mm.",
          "Give a thinner wall, or check the vessel's size.", ""};
}

double thickness_at(const WallThickness& thickness, double height, double top) {
  const double part = std::clamp(height / top, 0.0, 1.0);
  return thickness.foot_mm + part * (thickness.rim_mm - thickness.foot_mm);
}

// The points of the inner face from the floor's upper side on; the first lies on the floor.
std::vector<ProfilePoint> inner_above(const Wall& wall, double floor) {
  std::vector<ProfilePoint> above;
  for (std::size_t i = 0; i < wall.inner.size(); ++i) {
    if (above.empty() && wall.inner[i].height_mm < floor) continue;
    if (above.empty() && i > 0) {
      const ProfilePoint& a = wall.inner[i - 1];
      const ProfilePoint& b = wall.inner[i];
      const double rise = b.height_mm - a.height_mm;
      const double part = rise > 0.0 ? (floor - a.height_mm) / rise : 0.0;
      above.push_back({a.radius_mm + part * (b.radius_mm - a.radius_mm), floor});
    }
    above.push_back(wall.inner[i]);
  }
  return above;
}

// The room inside, filled to the outer edge of the rim. The lip is cut square to the wall: where it
// leans outward its inner edge stands higher than that, where it leans inward lower.
std::vector<ProfilePoint> room_outline(const Wall& wall, const std::vector<ProfilePoint>& above,
                                       double floor) {
  const double brim = wall.outer.back().height_mm;
  std::vector<ProfilePoint> room{{0.0, floor}};
  for (std::size_t i = 0; i < above.size(); ++i) {
    if (above[i].height_mm <= brim) {
      room.push_back(above[i]);
      continue;
    }
    const ProfilePoint& last = room.back();
    const double part = (brim - last.height_mm) / (above[i].height_mm - last.height_mm);
    room.push_back({last.radius_mm + part * (above[i].radius_mm - last.radius_mm), brim});
    break;
  }
  if (room.back().height_mm < brim) room.push_back(wall.outer.back());
  room.push_back({0.0, brim});
  return room;
}

void add_inside(const WallThickness& thickness, Wall& wall) {
  const bool flat = wall.outer.front().radius_mm > 0.0;
  const double floor = flat ? thickness.foot_mm : wall.inner.front().height_mm;
  const std::vector<ProfilePoint> above = inner_above(wall, floor);
  if (above.empty()) return;
  wall.capacity_mm3 = turned(room_outline(wall, above, floor)).volume_mm3;
  if (!flat) return;
  // Between bench, the wall's first edge, its inner face up to the floor's upper side, and the
  // axis.
  std::vector<ProfilePoint> slab{{0.0, 0.0}, wall.outer.front()};
  for (const ProfilePoint& point : wall.inner) {
    if (point.height_mm >= floor) break;
    slab.push_back(point);
  }
  slab.push_back(above.front());
  slab.push_back({0.0, floor});
  wall.floor = turned(slab);
}

}  // namespace

Result<Wall> wall_of(const Profile& profile, const WallThickness& thickness) {
  for (const double mm : {thickness.foot_mm, thickness.rim_mm}) {
    if (std::isfinite(mm) && mm >= kThinnestMm) continue;
    return Problem{Code::kBadValue, "A wall cannot be " + fixed_text(mm, 1) + " mm thick.",
                   "Give its thickness in millimetres, wet; a millimetre is the thinnest.", ""};
  }
  Wall wall;
  wall.outer = profile.sampled(kWallSteps + 1);
  double top = 0.0;
  for (const ProfilePoint& point : wall.outer) top = std::max(top, point.height_mm);
  for (std::size_t i = 0; i < wall.outer.size(); ++i) {
    const ProfilePoint& out = wall.outer[i];
    const double s = static_cast<double>(i) / static_cast<double>(kWallSteps);
    const ProfilePoint normal = profile.normal_at(s);
    const double thick = thickness_at(thickness, out.height_mm, top);
    ProfilePoint in{out.radius_mm - thick * normal.radius_mm,
                    out.height_mm - thick * normal.height_mm};
    // Near the middle of a round base the inner face ends at the axis.
    const bool in_the_base = out.height_mm <= 2.0 * thick;
    if (in.radius_mm <= 0.0 && !in_the_base) return too_thick(thick, out.height_mm);
    in.radius_mm = std::max(in.radius_mm, 0.0);
    wall.inner.push_back(in);
  }
  for (std::size_t i = 0; i + 1 < wall.outer.size(); ++i) {
    const ProfilePoint& low = wall.outer[i];
    const ProfilePoint& high = wall.outer[i + 1];
    wall.strips.push_back(
        {low.height_mm, high.height_mm, turned({low, high, wall.inner[i + 1], wall.inner[i]})});
  }
  add_inside(thickness, wall);
  if (!(wall.capacity_mm3 > 0.0)) return too_thick(thickness.foot_mm, 0.0);
  return wall;
}

double clay_volume(const Wall& wall) {
  double volume = wall.floor.volume_mm3;
  for (const WallStrip& strip : wall.strips) volume += strip.figure.volume_mm3;
  return volume;
}

}  // namespace potshadow

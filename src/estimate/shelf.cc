// SPDX-License-Identifier: MIT
#include "estimate/shelf.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "estimate/disc.h"
#include "estimate/known_size.h"

namespace potshadow::internal {
namespace {

using Eigen::Vector3d;

// Where a sight line meets the plane that is 1 below the eye.
Vector3d on_level(const Vector3d& ray, const Vector3d& up) {
  return ray * (1.0 / std::max(1e-6, -up.dot(ray)));
}

}  // namespace

Vector3d pane_inward(const Lens<double>& lens, const FlatReference& seat, const Vector3d& up,
                     const Vector3d& towards) {
  if (!seat.shelf_at_glass) return towards;
  const auto on_shelf = [&](std::size_t k) {
    return on_level(undistorted(lens, (*seat.shelf_at_glass)[k]).homogeneous(), up);
  };
  const Vector3d across = up.cross(on_shelf(1) - on_shelf(0));
  if (!(across.norm() > 0.0)) return towards;
  const Vector3d inward = across.normalized() * (across.dot(towards) < 0.0 ? -1.0 : 1.0);
  return inward.dot(towards) > std::cos(kMostPaneTurnRad) ? inward : towards;
}

double seam_reach(const Lens<double>& lens, const FlatReference& seat, const Vector3d& up,
                  const Vector3d& inward) {
  double sum = 0.0;
  for (const PhotoPoint& mark : *seat.shelf_at_glass) {
    sum += inward.dot(on_level(undistorted(lens, mark).homogeneous(), up)) / 2.0;
  }
  return sum;
}

double shelf_from_pane(const ShelfSight& sight, const FlatReference& seat, const SeenVessel& seen,
                       const Vector3d& up, const Vector3d& inward, double depth_mm) {
  if (seat.glass_to_axis_mm > 0.0) {
    const double along = inward.dot(seen.towards) * axis_reach(seen);
    return along > 0.0 ? (depth_mm + seat.glass_to_axis_mm) / along + sight.hidden_mm : 0.0;
  }
  if (!seat.shelf_at_glass) return 0.0;
  return depth_mm / seam_reach(sight.lens, seat, up, inward) - seat.riser_mm;
}

double shelf_from_length(const ShelfSight& sight, const Flat& flat, const SeenVessel& seen,
                         const Vector3d& up) {
  const FlatReference& seat = flat.seat;
  const double mm = std::max(flat.width_mm, flat.height_mm);
  const Vector3d first = undistorted(sight.lens, flat.points[0].at).homogeneous();
  const Vector3d second = undistorted(sight.lens, flat.points[1].at).homogeneous();
  if (seat.place == Place::kLying) {
    return mm / (on_level(first, up) - on_level(second, up)).norm() - seat.riser_mm;
  }
  if (seat.place == Place::kStanding || seat.place == Place::kLeaning) {
    const Vector3d foot = on_level(first, up);
    const Vector3d level = second - up.dot(second) * up;
    const Vector3d foot_level = foot + up;
    const double along = level.dot(foot_level) / level.squaredNorm();
    const double high = 1.0 + along * up.dot(second);
    const double lean = seat.place == Place::kLeaning ? std::cos(kLeanMeanRad) : 1.0;
    return high > 1e-6 ? mm * lean / high - seat.riser_mm : 0.0;
  }
  const Vector3d inward = seat.place == Place::kOnGlass
                              ? pane_inward(sight.lens, seat, up, seen.towards)
                              : seen.towards;
  const double apart = (first / inward.dot(first) - second / inward.dot(second)).norm();
  const double depth = mm / std::max(1e-9, apart);
  if (seat.place == Place::kOnGlass) return shelf_from_pane(sight, seat, seen, up, inward, depth);
  return (depth - seat.depth_offset_mm) / axis_reach(seen) + sight.hidden_mm;
}

std::optional<double> shelf_from_size(const SightRays& rays, bool round_base, const Vector3d& up,
                                      const KnownSize& size, std::size_t control_count) {
  const auto seen = seen_with(rays, up);
  if (!seen) return std::nullopt;
  const auto sketch = sketched(rays, *seen, up, kAnyEyeHeightMm, round_base, 0.0, control_count);
  if (!sketch) return std::nullopt;
  const auto readings = size_readings({size}, sketch->controls);
  if (!readings) return std::nullopt;
  const double value = size_value(readings->sizes.front(), sketch->controls.data());
  if (!(value > 0.0)) return std::nullopt;
  return kAnyEyeHeightMm * size.value_mm / value;
}

}  // namespace potshadow::internal

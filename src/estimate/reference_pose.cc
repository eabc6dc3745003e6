// SPDX-License-Identifier: MIT
#include "estimate/reference_pose.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "estimate/disc.h"
#include "geometry/conic.h"

namespace potshadow::internal {

using Eigen::Vector2d;
using Eigen::Vector3d;

std::vector<PlanePose> flat_poses(const Lens<double>& lens, const Flat& flat) {
  if (flat.kind == FlatKind::kLength || flat.points.size() < 4) return {};
  std::array<Vector2d, 4> corners;
  for (std::size_t k = 0; k < 4; ++k) corners[k] = undistorted(lens, flat.points[k].at);
  const double width = (flat.points[1].across - flat.points[0].across) * flat.width_mm;
  const double height =
      (flat.points[3].up - flat.points[0].up) * (flat.square() ? flat.width_mm : flat.height_mm);
  auto found = rectangle_poses(corners, Mm{width}, Mm{height});
  return found ? std::move(found).value() : std::vector<PlanePose>{};
}

std::vector<PlanePose> disc_poses(const Lens<double>& lens, const DiscReference& disc) {
  std::vector<Vector2d> flat;
  for (const PhotoPoint& mark : disc.edge) flat.push_back(undistorted(lens, mark));
  const auto conic = fit_ellipse(flat);
  if (!conic) return {};
  const auto circles = circle_poses(*conic);
  if (!circles) return {};
  std::vector<PlanePose> poses;
  for (const CirclePose& circle : *circles) {
    const Vector3d across = (-Vector3d::UnitY() + circle.normal.y() * circle.normal).normalized();
    if (!across.allFinite()) continue;
    PlanePose pose;
    pose.origin_mm = circle.centre * (disc.diameter_mm / 2.0);
    pose.camera_from_plane << across.cross(circle.normal), across, circle.normal;
    poses.push_back(pose);
  }
  return poses;
}

PlanePose first_to_origin(const Flat& flat, PlanePose pose) {
  const double height = flat.square() ? flat.width_mm : flat.height_mm;
  pose.origin_mm -= pose.camera_from_plane.col(0) * flat.points[0].across * flat.width_mm +
                    pose.camera_from_plane.col(1) * flat.points[0].up * height;
  return pose;
}

PlanePose seated(const DiscReference& disc, PlanePose pose, const Vector3d& up) {
  if (disc.place == Place::kLying) return pose;
  const Vector3d normal = pose.camera_from_plane.col(2);
  const Vector3d across = up - normal.dot(up) * normal;
  if (!(across.norm() > 1e-6)) return pose;
  pose.camera_from_plane.col(1) = across.normalized();
  pose.camera_from_plane.col(0) = pose.camera_from_plane.col(1).cross(normal);
  if (stands_on_edge(disc.place)) {
    pose.origin_mm -= pose.camera_from_plane.col(1) * (disc.diameter_mm / 2.0);
  }
  return pose;
}

const PlanePose& likelier(const DiscReference& disc, const std::vector<PlanePose>& poses,
                          const Vector3d& up) {
  constexpr double kLean = 0.35;  // rad
  double wanted = 0.0;            // of the normal along up
  if (disc.place == Place::kLying) wanted = 1.0;
  if (disc.place == Place::kLeaning) wanted = std::sin(kLean);
  const auto off = [&](const PlanePose& pose) {
    return std::abs(pose.camera_from_plane.col(2).dot(up) - wanted);
  };
  return *std::min_element(poses.begin(), poses.end(),
                           [&](const PlanePose& a, const PlanePose& b) { return off(a) < off(b); });
}

}  // namespace potshadow::internal

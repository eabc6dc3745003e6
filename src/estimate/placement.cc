// SPDX-License-Identifier: MIT
#include "estimate/placement.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "estimate/disc.h"
#include "estimate/shelf.h"

namespace potshadow::internal {

using Eigen::Vector3d;

std::array<double, kReferenceSize> placed(const SketchedCamera& camera,
                                          const FlatReference& reference, const PlanePose& pose,
                                          View& view) {
  const Eigen::Matrix3d& axes = camera.axes;
  const Vector3d origin = axes.transpose() * pose.origin_mm + camera.eye;
  const Vector3d u = axes.transpose() * pose.camera_from_plane.col(0);
  const Vector3d v = axes.transpose() * pose.camera_from_plane.col(1);
  std::array<double, kReferenceSize> block{};
  if (reference.place == Place::kOnGlass) {
    const Vector3d normal = axes.transpose() * pose.camera_from_plane.col(2);
    const double side = normal.y() > 0.0 ? 1.0 : -1.0;
    view.pane[kPaneAzimuthRad] = std::clamp(std::atan2(side * normal.x(), side * normal.y()),
                                            -kMostPaneTurnRad, kMostPaneTurnRad);
    const Vector3d inward = pane_normal(view.pane.data());
    const Vector3d along(inward.y(), -inward.x(), 0.0);
    block[kAlongMm] = along.dot(origin);
    block[kAcrossMm] = origin.z();
    block[kYawRad] = std::atan2(u.z(), along.dot(u));
    block[kOffsetMm] =
        reference.glass_to_axis_mm > 0.0 ? reference.glass_to_axis_mm : -inward.dot(origin);
    return block;
  }
  block[kYawRad] = std::atan2(u.y(), u.x());
  block[kAlongMm] = origin.x();
  if (reference.place == Place::kBeside) {
    block[kAcrossMm] = origin.z();
    block[kYawRad] = std::clamp(block[kYawRad], -1.2, 1.2);
    block[kLeanRad] = std::atan2(u.z(), u.head<2>().norm());
    block[kOffsetMm] = reference.depth_offset_mm;
    return block;
  }
  block[kAcrossMm] = origin.y();
  const Vector3d back(-std::sin(block[kYawRad]), std::cos(block[kYawRad]), 0.0);
  block[kLeanRad] = std::clamp(std::atan2(v.dot(back), v.z()), -0.5, 1.2);
  if (reference.place != Place::kLeaning) block[kLeanRad] = 0.0;
  block[kOffsetMm] = reference.riser_mm;
  return block;
}

std::array<double, kReferenceSize> placed_length(const SketchedCamera& camera, const Flat& flat,
                                                 View& view) {
  const Eigen::Matrix3d& axes = camera.axes;
  const Vector3d& eye = camera.eye;
  const FlatReference& seat = flat.seat;
  std::array<double, kReferenceSize> block{};
  block[kWidthMm] = flat.width_mm;
  block[kHeightMm] = flat.height_mm;
  std::array<Vector3d, 2> rays;
  for (std::size_t k = 0; k < 2; ++k) {
    rays[k] = axes.transpose() * undistorted(camera.lens, flat.points[k].at).homogeneous();
  }
  Vector3d inward = Vector3d::UnitY();
  if (seat.place == Place::kOnGlass) {
    inward = axes.transpose() * pane_inward(camera.lens, seat, axes.col(2), axes.col(1));
    view.pane[kPaneAzimuthRad] = std::atan2(inward.x(), inward.y());
  }
  const Vector3d along(inward.y(), -inward.x(), 0.0);
  const auto at_depth = [&](std::size_t k, double depth) -> Vector3d {
    return eye + rays[k] * ((depth - inward.dot(eye)) / std::max(1e-6, inward.dot(rays[k])));
  };
  const auto on_shelf = [&](std::size_t k) -> Vector3d {
    return eye - rays[k] * ((eye.z() + seat.riser_mm) / std::min(-1e-6, rays[k].z()));
  };
  if (seat.place == Place::kOnGlass || seat.place == Place::kBeside) {
    double depth = seat.depth_offset_mm;
    if (seat.place == Place::kOnGlass) {
      block[kOffsetMm] = seat.glass_to_axis_mm;
      if (!(block[kOffsetMm] > 0.0)) {
        const double reach = seam_reach(camera.lens, seat, axes.col(2), axes * inward);
        block[kOffsetMm] = -inward.dot(eye) - reach * (eye.z() + seat.riser_mm);
      }
      depth = -block[kOffsetMm];
    } else {
      block[kOffsetMm] = depth;
    }
    const Vector3d first = at_depth(0, depth);
    const Vector3d second = at_depth(1, depth);
    const double roll = std::atan2(second.z() - first.z(), along.dot(second - first));
    const bool middle = seat.place == Place::kBeside;
    block[middle ? kLeanRad : kYawRad] = roll;
    block[kAlongMm] = along.dot(middle ? Vector3d((first + second) / 2.0) : first);
    block[kAcrossMm] = middle ? (first.z() + second.z()) / 2.0 : first.z();
    return block;
  }
  const Vector3d first = on_shelf(0);
  block[kAlongMm] = first.x();
  block[kAcrossMm] = first.y();
  block[kOffsetMm] = seat.riser_mm;
  if (seat.place == Place::kLying) {
    const Vector3d second = on_shelf(1);
    block[kYawRad] = std::atan2(second.y() - first.y(), second.x() - first.x());
  }
  if (seat.place == Place::kLeaning) block[kLeanRad] = kLeanMeanRad;
  return block;
}

std::array<double, kSeamSize> placed_seam(const SketchedCamera& camera, const Seam& seam,
                                          const std::array<double, kReferenceSize>& reference,
                                          const View& view) {
  const Vector3d& eye = camera.eye;
  const Vector3d normal = pane_normal(view.pane.data());
  const Vector3d along(normal.y(), -normal.x(), 0.0);
  std::array<double, kSeamSize> block{};
  block[kSeamDropMm] = seam.seat.riser_mm;
  for (std::size_t k = 0; k < 2; ++k) {
    const PhotoPoint& mark = (*seam.seat.shelf_at_glass)[k];
    const Vector3d ray = camera.axes.transpose() * undistorted(camera.lens, mark).homogeneous();
    const double depth = -reference[kOffsetMm] - normal.dot(eye);
    const Vector3d at = eye + ray * (depth / std::max(1e-6, normal.dot(ray)));
    block[k == 0 ? kSeamFirstMm : kSeamSecondMm] = along.dot(at);
  }
  return block;
}

}  // namespace potshadow::internal

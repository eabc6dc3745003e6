// SPDX-License-Identifier: MIT
#include "estimate/solved_view.h"

#include <cmath>

#include "geometry/glass.h"

namespace potshadow {
namespace {

Eigen::Vector3d seen_at(const SolvedView& view, const Eigen::Vector3d& point) {
  if (!view.pane) return point;
  return seen_through_glass<double>(point, view.eye_mm, view.pane->normal, view.pane->thickness_mm,
                                    view.pane->index);
}

}  // namespace

std::optional<PhotoPoint> SolvedView::pixel(const Eigen::Vector3d& point) const {
  const Eigen::Vector3d in_camera = camera_from_vessel * (seen_at(*this, point) - eye_mm);
  if (!(in_camera.z() > 0.0)) return std::nullopt;
  const Eigen::Vector2d at = project(lens, in_camera);
  return PhotoPoint{at.x(), at.y()};
}

SolvedView::Ray SolvedView::ray(const PhotoPoint& pixel) const {
  const Eigen::Vector2d flat = undistorted(lens, pixel);
  const Eigen::Vector3d along =
      (camera_from_vessel.transpose() * Eigen::Vector3d(flat.x(), flat.y(), 1.0)).normalized();
  if (!pane) return {eye_mm, along};
  const double shift =
      glass_shift_mm(pane->thickness_mm, pane->index, std::abs(along.dot(pane->normal)));
  return {eye_mm + shift * pane->normal, along};
}

Eigen::Vector3d SolvedView::apparent_eye_mm(const Eigen::Vector3d& point) const {
  return eye_mm + (point - seen_at(*this, point));
}

}  // namespace potshadow

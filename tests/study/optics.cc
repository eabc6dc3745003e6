// SPDX-License-Identifier: MIT
#include "study/optics.h"

#include <cmath>
#include <numbers>

namespace potshadow::study {
namespace {

Eigen::Vector3d in_shelf(const Placed& placed, const Eigen::Vector3d& point) {
  return placed.foot + placed.turn * point;
}

double azimuth_of_eye(const Camera& camera, const Placed& placed) {
  const Eigen::Vector3d eye = placed.turn.transpose() * (camera.eye - placed.foot);
  return std::atan2(eye.y(), eye.x());
}

}  // namespace

Eigen::Vector3d towards_eye(const Camera& camera, const Eigen::Vector3d& point, bool behind_glass) {
  const Eigen::Vector3d way = camera.eye - point;
  if (!camera.pane || !behind_glass) return way.normalized();
  const Pane& pane = *camera.pane;
  const Eigen::Vector3d outward = -pane.inward;
  const double along = way.dot(outward);
  const Eigen::Vector3d across = way - along * outward;
  const double reach = across.norm();
  const double air = along - pane.thickness_mm;
  const double square = pane.index * pane.index;
  double tangent = reach / along;
  for (int i = 0; i < 12; ++i) {
    const double root = std::sqrt(square + (square - 1.0) * tangent * tangent);
    const double miss = air * tangent + pane.thickness_mm * tangent / root - reach;
    tangent -= miss / (air + pane.thickness_mm * square / (root * root * root));
  }
  if (reach <= 0.0) return outward;
  return (outward + tangent / reach * across).normalized();
}

PhotoPoint seen(const Camera& camera, const Eigen::Vector3d& point, bool behind_glass) {
  const Eigen::Vector3d ray = -(camera.axes * towards_eye(camera, point, behind_glass));
  const double x = ray.x() / ray.z();
  const double y = ray.y() / ray.z();
  const double bend = 1.0 + camera.k1 * (x * x + y * y);
  return {camera.middle_x_px + camera.focal_px * x * bend,
          camera.middle_y_px + camera.focal_px * y * bend};
}

std::vector<PhotoPoint> outline(const Camera& camera, const Placed& placed, double side,
                                bool behind_glass) {
  const Pot& pot = *placed.pot;
  const double front = azimuth_of_eye(camera, placed);
  std::vector<PhotoPoint> points;
  for (std::size_t i = pot.round_base ? kOutlineStride : 0; i < pot.wall.size();
       i += kOutlineStride) {
    const auto facing = [&](double azimuth) {
      const Eigen::Vector3d point = in_shelf(placed, pot.at(i, azimuth));
      return (placed.turn * pot.normal(i, azimuth)).dot(towards_eye(camera, point, behind_glass));
    };
    double near = front;
    double far = front + side * std::numbers::pi;
    if (facing(near) <= 0.0 || facing(far) >= 0.0) continue;
    for (int k = 0; k < 46; ++k) {
      const double middle = (near + far) / 2.0;
      (facing(middle) > 0.0 ? near : far) = middle;
    }
    const Eigen::Vector3d own = pot.at(i, near);
    const Eigen::Vector3d point = in_shelf(placed, own);
    const Eigen::Vector3d ray = placed.turn.transpose() * towards_eye(camera, point, behind_glass);
    if (pot.stops(own, ray, true)) continue;
    points.push_back(seen(camera, point, behind_glass));
  }
  return points;
}

std::optional<PhotoPoint> ring_point(const Camera& camera, const Placed& placed, bool rim,
                                     double azimuth, bool behind_glass) {
  const Pot& pot = *placed.pot;
  const Eigen::Vector3d own = pot.at(rim ? pot.wall.size() - 1 : 0, azimuth);
  const Eigen::Vector3d point = in_shelf(placed, own);
  const Eigen::Vector3d ray = placed.turn.transpose() * towards_eye(camera, point, behind_glass);
  if (pot.stops(own, ray, false)) return std::nullopt;
  return seen(camera, point, behind_glass);
}

}  // namespace potshadow::study

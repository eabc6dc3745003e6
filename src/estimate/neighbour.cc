// SPDX-License-Identifier: MIT
#include "estimate/neighbour.h"

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

namespace potshadow::internal {

NeighbourSight neighbour_sight(const Setting& setting, const View& view,
                               const NeighbourState& neighbour) {
  // The neighbour's own frame in the vessel's: vessel = turn * own + origin.
  const auto in_vessel = [&](const Eigen::Vector3d& own) {
    return beside_vessel<double>(neighbour.place.data(), view.tilt.data(), own);
  };
  const Eigen::Vector3d origin = in_vessel(Eigen::Vector3d::Zero());
  Eigen::Matrix3d turn;
  for (int axis = 0; axis < 3; ++axis) {
    turn.col(axis) = in_vessel(Eigen::Vector3d::Unit(axis)) - origin;
  }
  const Eigen::Vector3d eye(0.0, -view.pose[kDistanceMm], view.pose[kEyeHeightMm]);
  const Eigen::Vector3d own_eye = turn.transpose() * (eye - origin);

  NeighbourSight out;
  out.turn_rad = std::atan2(own_eye.y(), own_eye.x()) + std::numbers::pi / 2.0;
  const Eigen::Matrix3d back =
      Eigen::AngleAxisd(out.turn_rad, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  out.sight.setting = setting;
  out.sight.setting.direction_rad = 0.0;
  out.sight.setting.camera_from_vessel_start = setting.camera_from_vessel_start * turn * back;
  out.sight.pose = view.pose;
  out.sight.pose[kDistanceMm] = own_eye.head<2>().norm();
  out.sight.pose[kEyeHeightMm] = own_eye.z();
  out.sight.lens = view.lens;
  out.sight.pane = view.pane;
  const Eigen::Vector3d normal =
      back.transpose() * turn.transpose() * pane_normal(view.pane.data());
  out.sight.pane[kPaneAzimuthRad] = std::atan2(normal.x(), normal.y());
  return out;
}

}  // namespace potshadow::internal

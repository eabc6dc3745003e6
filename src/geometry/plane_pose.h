// SPDX-License-Identifier: MIT
// The pose of a flat rectangle from the four corners a camera sees.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "core/result.h"
#include "core/units.h"

// Model: the rectangle lies in its own plane with corners lower left (0, 0), lower right (w, 0),
// upper right (w, h), upper left (0, h) and its z axis towards the viewer (right-handed, y up). A
// homography takes it to the normalised image; a plane seen from one view has up to two poses that
// fit almost equally well.
// Source: Collins & Bartoli, "Infinitesimal plane-based pose estimation", IJCV 109, 2014 (as in
// OpenCV's solvePnPGeneric).
namespace potshadow {

struct PlanePose {
  Eigen::Matrix3d camera_from_plane = Eigen::Matrix3d::Identity();  // rotation
  Eigen::Vector3d origin_mm = Eigen::Vector3d::Zero();  // lower left corner, camera frame
  double rms_normalised = 0.0;  // misfit of the corners in the normalised image
};

// Returns one or two poses, the better first. `corners` are normalised image points (distortion
// removed). Requires width, height > 0. Fails with kBadMarks where the corners are collinear or no
// pose puts the rectangle in front of the camera.
Result<std::vector<PlanePose>> rectangle_poses(const std::array<Eigen::Vector2d, 4>& corners,
                                               Mm width, Mm height);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Ellipses through marks, and the two circles in space that an ellipse can be the picture of.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "core/result.h"
#include "core/units.h"

// Model: a conic is the symmetric matrix C with p^T C p = 0 for homogeneous image points p. The
// sight lines through an ellipse in the normalised image form a cone; two families of planes cut it
// in circles.
// Failure: fewer than five points; points that fit no ellipse (collinear, hyperbolic).
// Sources: Fitzgibbon, Pilu, Fisher, IEEE PAMI 21(5), 1999 (direct ellipse fit, in the stable form
// of Halir & Flusser, WSCG 1998); circle pose from eigenvectors as in Forsyth et al., IEEE PAMI
// 13(10), 1991.
namespace potshadow {

struct Ellipse {
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  double semi_major = 0.0;
  double semi_minor = 0.0;
  Rad angle;  // of the major axis, from x towards y
};

// Returns the conic matrix of the ellipse that fits the points best by algebraic distance, any
// unit. Fails with kTooFewMarks (< 5) or kBadMarks (no ellipse).
Result<Eigen::Matrix3d> fit_ellipse(const std::vector<Eigen::Vector2d>& points);

// Returns centre, axes and angle of an ellipse's conic matrix. Fails with kBadMarks where it is
// none.
Result<Ellipse> ellipse_of(const Eigen::Matrix3d& conic);

// A circle of radius 1 in the camera frame.
struct CirclePose {
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();  // in radii
  Eigen::Vector3d normal = Eigen::Vector3d::Zero();  // unit length, towards the camera's side
};

// Returns the two poses of a unit circle whose picture is the ellipse `conic` of normalised image
// points. They coincide for a circle seen square on. Fails with kBadMarks.
Result<std::array<CirclePose, 2>> circle_poses(const Eigen::Matrix3d& conic);

}  // namespace potshadow

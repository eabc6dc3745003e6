// SPDX-License-Identifier: MIT
// What a camera sees of points and of an oval pot behind a pane: written apart from the program.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "core/units.h"
#include "study/pot.h"

// Everything stands in the shelf's frame: z up, origin under the vessel's axis where its foot is,
// millimetres. A sight line through the pane is found from Snell's law at both faces, by Newton's
// method on the tangent of its angle: with D the way along the pane's normal and L across,
// (D - t) tan(a) + t tan(b) = L, sin(a) = n sin(b). The outline of the pot is where the ray that
// reaches the eye is square to the surface's normal, found by bisection round each ring of the true
// (oval, tilted) surface; points whose sight line runs through the pot elsewhere are left out.
namespace potshadow::study {

struct Pane {
  Eigen::Vector3d inward = Eigen::Vector3d::UnitY();  // level, unit length
  double thickness_mm = 0.0;
  double index = 1.52;
};

struct Camera {
  Eigen::Vector3d eye = Eigen::Vector3d::Zero();
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  // rows: right, down, forward
  double focal_px = 1.0;
  double middle_x_px = 0.0;
  double middle_y_px = 0.0;
  double k1 = 0.0;
  std::optional<Pane> pane;
};

// A pot and how it stands: `turn` takes its own frame to the shelf's.
struct Placed {
  const Pot* pot = nullptr;
  Eigen::Matrix3d turn = Eigen::Matrix3d::Identity();
  Eigen::Vector3d foot = Eigen::Vector3d::Zero();
};

// Returns the unit direction in which light leaves `point` for the eye.
Eigen::Vector3d towards_eye(const Camera& camera, const Eigen::Vector3d& point, bool behind_glass);

// Returns the pixel of a point. Requires that it lies in front of the camera.
PhotoPoint seen(const Camera& camera, const Eigen::Vector3d& point, bool behind_glass);

// Every how many points of the wall one of the outline is sought.
inline constexpr std::size_t kOutlineStride = 2;

// Returns what can be seen of the outline, from foot to rim; `side` +1 the right, -1 the left.
std::vector<PhotoPoint> outline(const Camera& camera, const Placed& placed, double side,
                                bool behind_glass);

// Returns the pixel of the rim (or foot) at an azimuth of the shelf's frame, or none where the pot
// itself hides it.
std::optional<PhotoPoint> ring_point(const Camera& camera, const Placed& placed, bool rim,
                                     double azimuth, bool behind_glass);

}  // namespace potshadow::study

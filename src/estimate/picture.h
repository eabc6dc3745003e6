// SPDX-License-Identifier: MIT
// The picture of a point of the vessel, and how it moves with the unknowns.
#pragma once

#include <Eigen/Core>
#include <array>

#include "estimate/state.h"

// Internal to `estimate`. The derivatives of image_of() (state.h) behind the pane, carried back
// from the picture to the unknowns: the same as automatic ones, at a tenth of their cost. Those of
// the glass go through each of its steps, so they are the derivatives of what is computed. Source:
// the chain rule; by the turn it is the left Jacobian of the rotation, Chirikjian, "Stochastic
// Models, Information Theory, and Lie Groups" 2, 2012, section 10.6 (from memory).
namespace potshadow::internal {

struct Picture {
  Eigen::Vector2d image = Eigen::Vector2d::Zero();
  // Derivatives of the image's part along a direction.
  std::array<double, kPoseSize> by_pose{};
  std::array<double, kLensSize> by_lens{};
  std::array<double, kPaneSize> by_pane{};
  Eigen::Vector3d by_point = Eigen::Vector3d::Zero();
};

// Returns the picture of a point in the vessel frame, behind the pane where there is one, and how
// its part along `direction` (of any length) moves.
Picture picture_along(const Setting& setting, const double* pose, const double* lens,
                      const double* pane, const Eigen::Vector3d& point,
                      const Eigen::Vector2d& direction);

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// The joint estimate as a least-squares problem: solved, and in its linear form.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "estimate/costs.h"
#include "estimate/rows.h"
#include "estimate/state.h"
#include "estimate/task.h"

// Internal to `estimate`. Every residual is divided by its standard deviation, so half the cost is
// minus the logarithm of the posterior and the inverse of J^T J its covariance.
namespace potshadow::internal {

// Smoothness of the vessel's profile and of each neighbour's, in the order of the views.
using Smoothnesses = std::vector<Smoothness>;

struct SolveReport {
  bool usable = false;
  double cost = 0.0;  // half the sum of squares
  int iterations = 0;
};

// How boldly the first steps go: with care from rough starts, far from what has nearly settled.
enum class Steps { kCareful, kBold };

// Improves `state` by at most `iterations` steps of Levenberg-Marquardt; leaves it untouched where
// the result is not usable.
SolveReport solve(const Task& task, const Smoothnesses& smoothness, int iterations, State& state,
                  Steps steps = Steps::kCareful);

// Columns of one photograph's unknowns, or -1 where they are held fixed.
struct ViewColumns {
  std::array<int, kPoseSize> pose{};
  std::array<int, kLensSize> lens{};
  std::array<int, kPaneSize> pane{};
  std::array<int, kTiltSize> tilt{};
};

// The problem linearised at a state: residuals and their derivatives by the free unknowns.
struct Linear {
  Eigen::MatrixXd jacobian;
  Eigen::VectorXd residual;
  std::vector<RowInfo> rows;
  std::vector<ViewColumns> views;
  std::vector<int> view_of_column;  // the photograph an unknown belongs to, -1 for common ones
  std::vector<int> control_column;  // of each control coordinate of the vessel (r0, z0, r1, ...)
  std::array<int, kRoundSize> round_column{};
};

Linear linearised(const Task& task, const Smoothnesses& smoothness, const State& state);

}  // namespace potshadow::internal

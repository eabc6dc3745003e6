// SPDX-License-Identifier: MIT
// The least-squares problem of the joint estimate: residuals, priors, and its linear form.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "estimate/answer.h"
#include "estimate/disc.h"
#include "estimate/input.h"
#include "estimate/matching.h"
#include "estimate/state.h"

// Internal to `estimate`. Every residual is divided by its standard deviation, so half the cost is
// minus the logarithm of the posterior and the inverse of J^T J its covariance.
namespace potshadow::internal {

// Prior standard deviations; a value of zero holds the unknown fixed.
struct Priors {
  double log_focal_sd = 0.02;
  double centre_sd_px = 1.0;
  double k1_sd = 0.02;
  double pane_azimuth_sd_rad = 0.26;
  double pane_thickness_mm = 0.0;
  double pane_thickness_sd_mm = 0.0;
  double tilt_sd_rad = 0.0087;
  double round_sd = 0.01;
  double width_px = 1.0;
  double height_px = 1.0;
};

// Returns the priors that the input states or implies (design values; see priors_of's body).
Priors priors_of(const EstimateInput& input);

// The smoothness prior on the profile: second differences between knots are normal with mean zero;
// `sd_mm` is their common scale and `relax[i]` how many times larger knot i may be.
struct Smoothness {
  double sd_mm = 1.0;
  std::vector<double> relax;  // one for each knot, count = controls - 2
};

// Everything the problem needs beside the state.
struct Task {
  const EstimateInput* input = nullptr;
  Setting setting;
  Priors priors;
  std::vector<MarkRef> marks;
  double sd_px = 1.0;  // of each mark: as stated, or larger while the solution is still rough
  std::vector<LeanDoubt> lean_doubts{};  // one a disc, or none while the solution is still rough
  std::vector<bool> left_out{};          // one a mark, or none: marks that bind nothing (wild.h)
};

inline bool is_left_out(const Task& task, std::size_t mark) {
  return mark < task.left_out.size() && task.left_out[mark];
}

// Returns the second differences of the controls at the knots, r and z in turn, 2 (count - 2) long.
Eigen::VectorXd second_differences(const std::vector<double>& controls);

struct SolveReport {
  bool usable = false;
  double cost = 0.0;  // half the sum of squares
  int iterations = 0;
};

// Improves `state` by at most `iterations` steps of Levenberg-Marquardt; leaves it untouched where
// the result is not usable.
SolveReport solve(const Task& task, const Smoothness& smoothness, int iterations, State& state);

// Where a row of the linear form comes from.
enum class RowKind { kObservation, kSmoothness, kPrior };
struct RowInfo {
  RowKind kind = RowKind::kObservation;
  DoubtSource source = DoubtSource::kMarks;
};

// The problem linearised at a state: residuals and their derivatives by the free unknowns.
struct Linear {
  Eigen::MatrixXd jacobian;
  Eigen::VectorXd residual;
  std::vector<RowInfo> rows;
  // Column of each control coordinate (r0, z0, r1, ...), or -1 where it is held fixed; likewise for
  // the other blocks' entries.
  std::vector<int> control_column;
  std::array<int, kPoseSize> pose_column{};
  std::array<int, kLensSize> lens_column{};
  std::array<int, kPaneSize> pane_column{};
  std::array<int, kTiltSize> tilt_column{};
  std::array<int, kRoundSize> round_column{};
};

Linear linearised(const Task& task, const Smoothness& smoothness, const State& state);

// Returns the pixel at which the model has corner `k` of rectangle `r`.
Eigen::Vector2d corner_image(const Task& task, const State& state, std::size_t r, std::size_t k);

// Returns the signed misfit of each mark in pixels, in the order of task.marks, then the corners'
// distances, four a rectangle, then the discs' edges.
std::vector<double> misfits_px(const Task& task, const State& state);

}  // namespace potshadow::internal

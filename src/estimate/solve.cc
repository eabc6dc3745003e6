// SPDX-License-Identifier: MIT
#include "estimate/solve.h"

#include <ceres/ceres.h>

#include <algorithm>
#include <utility>

#include "core/check.h"
#include "estimate/controls.h"
#include "estimate/problem.h"

namespace potshadow::internal {

SolveReport solve(const Task& task, const Smoothnesses& smoothness, int iterations, State& state,
                  Steps steps) {
  State work = state;
  AssembledProblem assembled(task, smoothness, work);
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_NORMAL_CHOLESKY;
  options.max_num_iterations = iterations;
  options.function_tolerance = 1e-6;  // half a hundredth of a sd at the usual cost
  options.parameter_tolerance = 1e-9;
  options.gradient_tolerance = 1e-10;
  options.logging_type = ceres::SILENT;
  options.num_threads = 1;
  // The scale is held by one row only, and damping as strong as usual follows it but slowly.
  constexpr double kBoldRadius = 1e9;
  if (steps == Steps::kBold) options.initial_trust_region_radius = kBoldRadius;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &assembled.problem(), &summary);
  SolveReport report;
  report.usable = summary.IsSolutionUsable();
  report.cost = summary.final_cost;
  report.iterations = static_cast<int>(summary.iterations.size());
  if (report.usable) state = work;
  return report;
}

Linear linearised(const Task& task, const Smoothnesses& smoothness, const State& state) {
  State work = state;
  AssembledProblem assembled(task, smoothness, work);
  ceres::Problem& problem = assembled.problem();
  ceres::Problem::EvaluateOptions options;
  Linear linear;
  int next = 0;
  const auto columns = [&](double* block, int size, int* out) {
    std::fill(out, out + size, -1);
    if (problem.IsParameterBlockConstant(block)) return;
    options.parameter_blocks.push_back(block);
    // The tangent of a subset keeps the free entries in order.
    const ceres::Manifold* manifold = problem.GetManifold(block);
    const int tangent = problem.ParameterBlockTangentSize(block);
    std::vector<double> plus(static_cast<std::size_t>(size * tangent));
    if (manifold != nullptr) manifold->PlusJacobian(block, plus.data());
    for (int i = 0; i < size; ++i) {
      bool free = true;
      if (manifold != nullptr) {
        free = false;
        for (int j = 0; j < tangent; ++j) {
          free = free || plus[static_cast<std::size_t>(i * tangent + j)] != 0.0;
        }
      }
      if (free) out[i] = next++;
    }
  };
  const auto belongs = [&](int view) {
    linear.view_of_column.resize(static_cast<std::size_t>(next), view);
  };
  const auto controls = [&](Body& body, std::vector<int>& out) {
    out.resize(body.controls.size());
    columns(head_of(body), kHeadSize, out.data());
    columns(tail_of(body), tail_size(body.control_count()), out.data() + kHeadSize);
  };
  std::vector<int> unused;
  const auto other = [&](auto& block) {
    unused.resize(block.size());
    columns(block.data(), static_cast<int>(block.size()), unused.data());
  };
  for (std::size_t v = 0; v < work.views.size(); ++v) {
    View& view = work.views[v];
    ViewColumns& of = linear.views.emplace_back();
    columns(view.pose.data(), kPoseSize, of.pose.data());
    columns(view.lens.data(), kLensSize, of.lens.data());
    columns(view.pane.data(), kPaneSize, of.pane.data());
    columns(view.tilt.data(), kTiltSize, of.tilt.data());
    belongs(static_cast<int>(v));
  }
  columns(work.vessel.round.data(), kRoundSize, linear.round_column.data());
  belongs(-1);
  for (std::size_t v = 0; v < work.views.size(); ++v) {
    View& view = work.views[v];
    for (auto& flat : view.flats) other(flat);
    for (auto& disc : view.discs) other(disc);
    for (auto& seam : view.seams) other(seam);
    for (NeighbourState& neighbour : view.neighbours) {
      other(neighbour.place);
      other(neighbour.body.round);
      controls(neighbour.body, unused);
    }
    belongs(static_cast<int>(v));
  }
  for (auto& lens : work.lenses) other(lens);
  controls(work.vessel, linear.control_column);
  belongs(-1);

  std::vector<double> residuals;
  ceres::CRSMatrix sparse;
  double cost = 0.0;
  const bool done = problem.Evaluate(options, &cost, &residuals, nullptr, &sparse);
  if (!done) return linear;  // no rows: the caller says so
  linear.residual = Eigen::Map<const Eigen::VectorXd>(residuals.data(),
                                                      static_cast<Eigen::Index>(residuals.size()));
  linear.jacobian = Eigen::MatrixXd::Zero(sparse.num_rows, sparse.num_cols);
  for (int row = 0; row < sparse.num_rows; ++row) {
    const auto r = static_cast<std::size_t>(row);
    for (int k = sparse.rows[r]; k < sparse.rows[r + 1]; ++k) {
      const auto at = static_cast<std::size_t>(k);
      linear.jacobian(row, sparse.cols[at]) = sparse.values[at];
    }
  }
  linear.rows = assembled.rows();
  POTSHADOW_CHECK(linear.rows.size() == residuals.size() && next == sparse.num_cols);
  return linear;
}

}  // namespace potshadow::internal

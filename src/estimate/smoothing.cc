// SPDX-License-Identifier: MIT
#include "estimate/smoothing.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>

#include "estimate/normal.h"
#include "estimate/predicted.h"

namespace potshadow::internal {
namespace {

// The bodies in the order of Smoothnesses, each with the places of the marks that show it.
struct Shown {
  const Body* body = nullptr;
  double scale_mm = 1.0;   // see picture_scale_mm
  std::vector<double> at;  // along its profile
};

double scale_of(const View& view) { return picture_scale_mm(view.pose.data(), view.lens.data()); }

std::vector<Shown> shown_bodies(const Task& task, const State& state) {
  const Matched all = matched(task, state);
  std::vector<Shown> bodies(1);
  bodies.front().body = &state.vessel;
  bodies.front().scale_mm = scale_of(state.views.front());
  std::size_t next = 0;
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    for (const Match& match : all.views[v].marks) {
      if (!is_left_out(task, next++)) bodies.front().at.push_back(match.s);
    }
    for (std::size_t n = 0; n < state.views[v].neighbours.size(); ++n) {
      Shown& shown = bodies.emplace_back();
      shown.body = &state.views[v].neighbours[n].body;
      shown.scale_mm = scale_of(state.views[v]);
      for (const Match& match : all.views[v].neighbours[n].marks) shown.at.push_back(match.s);
    }
  }
  return bodies;
}

// Freedom of the Student-t weights.
constexpr double kFreedom = 3.0;
// How many times as sharply the wall may turn where no mark shows it.
constexpr double kHiddenTurn = 3.0;

// Which knots of a profile marks show.
std::vector<bool> seen_knots(const Shown& shown, std::size_t knots) {
  std::vector<bool> seen(knots, false);
  for (const double s : shown.at) {
    const auto at = static_cast<std::size_t>(s * static_cast<double>(knots - 1));
    seen[at] = true;
    seen[std::min(knots - 1, at + 1)] = true;
  }
  return seen;
}

Eigen::Index first_smoothness_row(const Linear& linear) {
  Eigen::Index first = 0;
  while (linear.rows[static_cast<std::size_t>(first)].kind != RowKind::kSmoothness) ++first;
  return first;
}

Eigen::Index smoothness_rows(const Body& body) {
  return static_cast<Eigen::Index>(2 * (body.control_count() - 2));
}

// `rows` are those of the body's smoothness prior, whitened, and `spread` the solution for them.
Smoothness chosen(const Smoothness& before, const Shown& shown, const Eigen::MatrixXd& rows,
                  const Eigen::MatrixXd& spread) {
  const Eigen::VectorXd second = second_differences(shown.body->controls);
  const auto knots = static_cast<std::size_t>(second.size() / 2);
  Smoothness after = before;
  after.relax.resize(knots, 1.0);
  double roughness = 0.0;
  double open = 0.0;                    // the trace of D C D^T is what the data left open
  std::vector<double> expected(knots);  // of each knot's squared second difference, in sd^2
  for (std::size_t k = 0; k < knots; ++k) {
    const auto i = static_cast<Eigen::Index>(2 * k);
    const double weighted = before.sd * shown.scale_mm * after.relax[k];
    const double left = rows.row(i).dot(spread.col(i)) + rows.row(i + 1).dot(spread.col(i + 1));
    const double size = second.segment<2>(i).squaredNorm() / (weighted * weighted);
    roughness += size;
    open += left;
    expected[k] = size + left;
  }
  const double used = std::max(1e-3, 2.0 * static_cast<double>(knots) - open);
  after.sd = before.sd * std::sqrt(std::max(roughness, 1e-12) / used);

  // Student-t weights with nu degrees of freedom let a keel or a lip turn sharply where the rest is
  // smooth (expectation step of the usual scale mixture).
  const double ratio = before.sd / after.sd;
  for (std::size_t k = 0; k < knots; ++k) {
    const double squared = expected[k] * after.relax[k] * after.relax[k] * ratio * ratio;
    after.relax[k] = std::sqrt((kFreedom + squared) / (kFreedom + 2.0));
  }

  // Where no mark shows the wall it may turn more sharply than the rest does: a notch behind a rim,
  // a keel under a handle. The interval there says so.
  const std::vector<bool> seen = seen_knots(shown, knots);
  for (std::size_t k = 0; k < knots; ++k) {
    if (!seen[k]) after.relax[k] = std::max(after.relax[k], kHiddenTurn);
  }
  return after;
}

}  // namespace

Smoothnesses chosen_smoothness(const Task& task, const State& state, const Smoothnesses& before) {
  const Linear linear = linearised(task, before, state);
  if (linear.jacobian.rows() == 0) return before;
  const Eigen::MatrixXd normal = normal_matrix(linear.jacobian);
  const Eigen::LDLT<Eigen::MatrixXd> factor(normal);
  Eigen::Index first = first_smoothness_row(linear);
  const std::vector<Shown> bodies = shown_bodies(task, state);
  Smoothnesses after;
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    const Eigen::Index count = smoothness_rows(*bodies[b].body);
    const Eigen::MatrixXd rows = linear.jacobian.middleRows(first, count);
    after.push_back(chosen(before[b], bodies[b], rows, factor.solve(rows.transpose())));
    first += count;
  }
  return after;
}

double marginal_cost(const Task& task, const State& state, const Smoothnesses& smoothness) {
  const Linear linear = linearised(task, smoothness, state);
  if (linear.jacobian.rows() == 0) return std::numeric_limits<double>::infinity();
  const Eigen::LDLT<Eigen::MatrixXd> factor(linear.jacobian.transpose() * linear.jacobian);
  double cost = linear.residual.squaredNorm() / 2.0;
  for (const double pivot : factor.vectorD()) {
    if (!(pivot > 0.0)) return std::numeric_limits<double>::infinity();
    cost += std::log(pivot) / 2.0;
  }
  Eigen::Index first = first_smoothness_row(linear);
  const std::vector<Shown> bodies = shown_bodies(task, state);
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    const Eigen::Index count = smoothness_rows(*bodies[b].body);
    const Eigen::MatrixXd rows = linear.jacobian.middleRows(first, count);
    const Eigen::MatrixXd spread = factor.solve(rows.transpose());
    const auto knots = static_cast<std::size_t>(count / 2);
    const std::vector<bool> seen = seen_knots(bodies[b], knots);
    cost += static_cast<double>(count) * std::log(smoothness[b].sd * bodies[b].scale_mm);
    for (std::size_t k = 0; k < knots; ++k) {
      const auto i = static_cast<Eigen::Index>(2 * k);
      const double relax = smoothness[b].relax.empty() ? 1.0 : smoothness[b].relax[k];
      const double size = linear.residual.segment<2>(first + i).squaredNorm();
      const double left = rows.row(i).dot(spread.col(i)) + rows.row(i + 1).dot(spread.col(i + 1));
      if (seen[k]) {
        // The weight counts by its own prior, not as the one number that it was set to.
        const double squared = (size + left) * relax * relax;
        cost += (kFreedom + 2.0) / 2.0 * std::log((kFreedom + squared) / (kFreedom + 2.0));
        cost -= (size + left) / 2.0;
      } else {
        cost += 2.0 * std::log(relax);
      }
    }
    first += count;
  }
  return cost;
}

Smoothnesses present_smoothness(const State& state, double least) {
  Smoothnesses out;
  const auto add = [&](const View& view, const Body& body) {
    const double knots = static_cast<double>(body.control_count() - 2);
    const double rough = second_differences(body.controls).norm() / std::sqrt(2.0 * knots);
    out.push_back({std::max(least, rough / scale_of(view)), {}});
  };
  add(state.views.front(), state.vessel);
  for (const View& view : state.views) {
    for (const NeighbourState& neighbour : view.neighbours) add(view, neighbour.body);
  }
  return out;
}

}  // namespace potshadow::internal

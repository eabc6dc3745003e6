// SPDX-License-Identifier: MIT
#include "estimate/rival.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include "estimate/smoothing.h"

namespace potshadow::internal {
namespace {

double base_diameter(const State& state) { return 2.0 * state.vessel.controls[0]; }

// How wide the foot is, of the widest place: it hangs on no scale.
double foot_part(const State& state) {
  const std::vector<double>& controls = state.vessel.controls;
  double widest = 0.0;
  for (std::size_t i = 0; i < controls.size(); i += 2) widest = std::max(widest, controls[i]);
  return controls[0] / widest;
}

// What the other vessel's share is, from minus the logarithms of both marginal likelihoods. These
// are themselves uncertain: along a row of feet held at 10 mm steps they scatter by 2, as stretches
// of wall come into sight and go, so their difference does by 2.8. The logistic curve is averaged
// over that, by the usual approximation (D. J. Spiegelhalter & S. L. Lauritzen, Networks 20, 1990,
// from memory).
double weight_of(double cost, double rival_cost) {
  constexpr double kScatter = 2.8;
  constexpr double kFlatter = 1.0 + std::numbers::pi / 8.0 * kScatter * kScatter;
  return 1.0 / (1.0 + std::exp((rival_cost - cost) / std::sqrt(kFlatter)));
}

// The vessel that is found on the way back from a foot `times` as wide; none where that leads
// nowhere.
std::optional<Solved> back_from(const Solved& solved, double times) {
  constexpr double kHeld = 0.01;  // of the diameter, while it is held there
  constexpr int kRounds = 3;
  constexpr int kSteps = 6;
  constexpr int kRoundsBack = 8;
  constexpr int kStepsBack = 3;
  constexpr double kSettled = 0.03;  // relative change of the smoothness that no interval shows
  const double base = base_diameter(solved.state);
  Solved other = solved;
  auto& [task, state, smoothness, rival] = other;
  task.sizes.push_back({0, SizeName::kBaseDiameter, times * base, kHeld * base, false});
  for (int i = 0; i < kRounds; ++i) {
    if (!solve(task, smoothness, kSteps, state).usable) return std::nullopt;
    smoothness = chosen_smoothness(task, state, smoothness);
  }
  task.sizes = solved.task.sizes;
  for (int i = 0; i < kRoundsBack; ++i) {
    if (!solve(task, smoothness, kStepsBack, state).usable) return std::nullopt;
    const double before = smoothness.front().sd;
    smoothness = chosen_smoothness(task, state, smoothness);
    if (std::abs(smoothness.front().sd / before - 1.0) < kSettled) break;
  }
  if (!solve(task, smoothness, kSteps, state).usable) return std::nullopt;
  return other;
}

}  // namespace

std::optional<Rival> rival_foot(const Solved& solved, double foot_doubt) {
  constexpr double kDoubtful = 0.03;                    // half of all photographs know it better
  constexpr std::array<double, 2> kTimes = {0.6, 1.5};  // beyond the valley between the vessels
  constexpr double kLeastWeight = 0.01;
  if (!(foot_doubt > kDoubtful)) return std::nullopt;
  const double cost = marginal_cost(solved.task, solved.state, solved.smoothness);
  std::optional<Rival> most;
  double most_doubt = kLeastWeight * foot_doubt * foot_doubt;
  for (const double times : kTimes) {
    auto other = back_from(solved, times);
    if (!other) continue;
    const double apart = foot_part(other->state) / foot_part(solved.state) - 1.0;
    if (std::abs(apart) < foot_doubt) continue;
    const double weight =
        weight_of(cost, marginal_cost(other->task, other->state, other->smoothness));
    if (!(weight * apart * apart > most_doubt)) continue;
    most = Rival{solved.state, std::move(other->state), weight};
    most_doubt = weight * apart * apart;
  }
  return most;
}

Posterior::Gradient doubt_of_rival(const Rival& rival, const Linear& linear) {
  Posterior::Gradient doubt = Posterior::Gradient::Zero(linear.jacobian.cols());
  const double part = std::sqrt(rival.weight);
  const auto add = [&](const auto& columns, const auto& from, const auto& to) {
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (columns[i] >= 0) doubt(columns[i]) = part * (to[i] - from[i]);
    }
  };
  for (std::size_t v = 0; v < linear.views.size(); ++v) {
    const View& from = rival.found.views[v];
    const View& to = rival.other.views[v];
    add(linear.views[v].pose, from.pose, to.pose);
    add(linear.views[v].lens, from.lens, to.lens);
    add(linear.views[v].pane, from.pane, to.pane);
    add(linear.views[v].tilt, from.tilt, to.tilt);
  }
  add(linear.control_column, rival.found.vessel.controls, rival.other.vessel.controls);
  add(linear.round_column, rival.found.vessel.round, rival.other.vessel.round);
  return doubt;
}

}  // namespace potshadow::internal

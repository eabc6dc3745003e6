// SPDX-License-Identifier: MIT
#include "estimate/wild.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "estimate/checks.h"
#include "estimate/mark_checks.h"
#include "estimate/normal.h"
#include "estimate/predicted.h"

namespace potshadow::internal {
namespace {

// Chance alone passes it with one mark in 150,000.
constexpr double kWild = 4.5;
// A wild mark drags its neighbours off too; only what is near the worst is judged at once.
constexpr double kNearWorst = 0.5;
// A larger part of the marks is no slip of the hand.
constexpr std::size_t kMostPart = 5;  // one in so many
// The median of the absolute value of a standard normal variable, upside down.
constexpr double kMedianToSd = 1.4826;

// Whether every kind keeps as many marks as the estimate needs.
bool enough_left(const Task& task, const WildMarks& wild) {
  std::size_t next = 0;
  for (const ViewTask& view : task.views) {
    std::array<std::size_t, 4> left{};
    for (const MarkRef& mark : view.marks) {
      if (!wild[next++]) ++left[static_cast<std::size_t>(mark.kind)];
    }
    const auto count = [&](MarkKind kind) { return left[static_cast<std::size_t>(kind)]; };
    if ((needs_rim(*task.input) && count(MarkKind::kRim) < kLeastRimMarks) ||
        (needs_base(*task.input) && count(MarkKind::kBase) < kLeastBaseMarks) ||
        count(MarkKind::kLeft) + count(MarkKind::kRight) < kLeastOutlineMarks) {
      return false;
    }
  }
  return true;
}

}  // namespace

std::optional<WildMarks> wild_marks(const Task& task, const State& state, const Linear& linear) {
  const std::size_t count = task.mark_count();
  WildMarks wild(count, false);
  if (linear.jacobian.rows() == 0) return wild;
  const Eigen::LDLT<Eigen::MatrixXd> factor(normal_matrix(linear.jacobian));
  const auto used =
      static_cast<Eigen::Index>(count - static_cast<std::size_t>(std::count(
                                            task.left_out.begin(), task.left_out.end(), true)));
  const Eigen::MatrixXd rows = linear.jacobian.topRows(used);
  const Eigen::MatrixXd spread = factor.solve(rows.transpose());
  constexpr double kLeastOpen = 0.02;  // below it the mark alone holds its place
  std::vector<double> off(count, 0.0);
  std::vector<double> in_use;
  Eigen::Index row = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (is_left_out(task, i)) continue;
    const double open = std::max(kLeastOpen, 1.0 - rows.row(row).dot(spread.col(row)));
    off[i] = std::abs(linear.residual(row)) / std::sqrt(open);
    in_use.push_back(off[i]);
    ++row;
  }
  const auto middle = in_use.begin() + static_cast<std::ptrdiff_t>(in_use.size() / 2);
  std::nth_element(in_use.begin(), middle, in_use.end());
  const double limit = kWild * std::max(1.0, kMedianToSd * *middle);
  const double worst = *std::max_element(off.begin(), off.end());
  std::vector<Misfit> all;
  if (!task.left_out.empty()) all = misfits(task, state);
  std::size_t found = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (is_left_out(task, i)) {
      wild[i] = std::abs(all[i].off_px) / all[i].sd_px > limit;
    } else {
      wild[i] = off[i] > std::max(limit, kNearWorst * worst);
    }
    if (wild[i]) ++found;
  }
  if (found > std::max<std::size_t>(1, count / kMostPart) || !enough_left(task, wild)) {
    return std::nullopt;
  }
  return wild;
}

std::vector<WildMarks> mirrored(const Task& task, const State& state) {
  constexpr double kReach = 0.05;  // of the profile's length
  std::vector<WildMarks> choices;
  const Matched all = matched(task, state);
  std::size_t first = 0;  // number of the view's first mark among all
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const std::vector<MarkRef>& marks = task.views[v].marks;
    const std::vector<Match>& matches = all.views[v].marks;
    for (std::size_t i = 0; i < marks.size(); ++i) {
      const MarkKind kind = marks[i].kind;
      if (!is_left_out(task, first + i)) continue;
      if (kind != MarkKind::kLeft && kind != MarkKind::kRight) continue;
      const MarkKind other = kind == MarkKind::kLeft ? MarkKind::kRight : MarkKind::kLeft;
      std::size_t nearest = i;
      double reach = kReach;
      for (std::size_t j = 0; j < marks.size(); ++j) {
        const double apart = std::abs(matches[j].s - matches[i].s);
        if (marks[j].kind != other || is_left_out(task, first + j) || !(apart < reach)) continue;
        reach = apart;
        nearest = j;
      }
      if (nearest == i) continue;
      WildMarks choice = task.left_out;
      choice[first + i] = false;
      choice[first + nearest] = true;
      choices.push_back(std::move(choice));
    }
    first += marks.size();
  }
  return choices;
}

EstimateInput without(const EstimateInput& input, const WildMarks& wild) {
  EstimateInput out = input;
  std::size_t next = 0;
  for (PhotoInput& photo : out.photos) {
    const std::vector<MarkRef> refs = mark_refs(photo.marks);
    Marks marks;
    marks.sd_px = photo.marks.sd_px;
    const std::array lists = {
        std::pair(&marks.rim, &marks.rim_sd_px), std::pair(&marks.base, &marks.base_sd_px),
        std::pair(&marks.left, &marks.left_sd_px), std::pair(&marks.right, &marks.right_sd_px)};
    for (const MarkRef& ref : refs) {
      if (wild[next++]) continue;
      const auto& [points, own_sd_px] = lists[static_cast<std::size_t>(ref.kind)];
      points->push_back(ref.at);
      own_sd_px->push_back(ref.traced ? ref.sd_px : 0.0);
    }
    photo.marks = std::move(marks);
  }
  return out;
}

}  // namespace potshadow::internal

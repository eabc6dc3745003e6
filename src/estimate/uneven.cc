// SPDX-License-Identifier: MIT
#include "estimate/uneven.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace potshadow::internal {
namespace {

constexpr double kDegPerRad = 180.0 / std::numbers::pi;
constexpr std::size_t kFewestASide = 4;
constexpr std::size_t kBands = 6;         // of the height
constexpr std::size_t kFewestInBand = 3;  // marks that tell of unevenness
// Chance alone goes as far once in 370 times; with six bands, once in 60.
constexpr double kBeyond = 3.0;

struct Shift {
  double height_mm = 0.0;
  double right_mm = 0.0;  // of the mark against the model, to the right as seen
  bool left = false;      // a mark of the left outline
};

std::vector<Shift> shifts_of(const Task& task, const State& state, std::size_t v,
                             const std::vector<Misfit>& all) {
  const ViewTask& of = task.views[v];
  const View& view = state.views[v];
  const Lens<double> lens = lens_of(view.lens.data(), of.setting.focal_start_px);
  const Eigen::Vector2d foot = vessel_image(of, view, {0.0, 0.0, 0.0});
  const Eigen::Vector2d top = vessel_image(of, view, {0.0, 0.0, state.vessel.controls.back()});
  const Eigen::Vector2d up = (top - foot).normalized();
  const Eigen::Vector2d right(-up.y(), up.x());
  const double mm_per_px =
      std::hypot(view.pose[kDistanceMm],
                 view.pose[kEyeHeightMm] - state.vessel.controls.back() / 2.0) /
      lens.focal_px;
  const std::vector<Match> matches =
      match_marks(vessel_sight(of.setting, view), state.vessel, of.marks);
  std::vector<Shift> shifts;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const MarkPlace& place = all[i].place;
    if (place.photo != v || is_left_out(task, i)) continue;
    if (place.kind != MarkKind::kLeft && place.kind != MarkKind::kRight) continue;
    for (std::size_t k = 0; k < of.marks.size(); ++k) {
      if (of.marks[k].kind != place.kind || of.marks[k].number != place.number) continue;
      // Where the outline runs level its marks say nothing of a shift.
      const double slant = std::abs(matches[k].normal.dot(right));
      if (!matches[k].on_outline() || slant < 0.5) break;
      const Eigen::Vector2d off(all[i].marked.x_px - all[i].fitted.x(),
                                all[i].marked.y_px - all[i].fitted.y());
      const double across = off.dot(matches[k].normal) / matches[k].normal.dot(right);
      shifts.push_back({profile_point(matches[k], state.vessel.controls).height_mm,
                        across * mm_per_px, place.kind == MarkKind::kLeft});
      break;
    }
  }
  return shifts;
}

}  // namespace

std::optional<Uneven> uneven_of(const Task& task, const State& state, const Posterior& posterior,
                                const std::vector<Misfit>& all) {
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    const std::vector<Shift> shifts = shifts_of(task, state, v, all);
    const auto left = static_cast<std::size_t>(
        std::count_if(shifts.begin(), shifts.end(), [](const Shift& s) { return s.left; }));
    if (left < kFewestASide || shifts.size() - left < kFewestASide) continue;
    // A straight line through the shifts, by the height.
    Eigen::MatrixXd a(static_cast<Eigen::Index>(shifts.size()), 2);
    Eigen::VectorXd b(static_cast<Eigen::Index>(shifts.size()));
    for (std::size_t i = 0; i < shifts.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      a.row(row) << 1.0, shifts[i].height_mm;
      b(row) = shifts[i].right_mm;
    }
    const Eigen::Matrix2d normal = a.transpose() * a;
    const Eigen::LDLT<Eigen::Matrix2d> factor(normal);
    const Eigen::Vector2d line = factor.solve(a.transpose() * b);
    const Eigen::VectorXd rest = b - a * line;
    const double sd_mm =
        std::sqrt(rest.squaredNorm() / std::max(1.0, static_cast<double>(shifts.size()) - 2.0));
    const Eigen::Matrix2d covariance = factor.solve(Eigen::Matrix2d::Identity());

    Uneven uneven;
    double lean = line(1);
    double variance = covariance(1, 1) * sd_mm * sd_mm;
    // The tilt turns the shelf under the vessel: about y, to the left where positive.
    const int column = posterior.linear().views[v].tilt[kTiltY];
    lean -= state.views[v].tilt[kTiltY];
    if (column >= 0) {
      Posterior::Gradient g = posterior.zero();
      g(column) = 1.0;
      variance += posterior.variance(g);
    }
    uneven.lean_deg = normal_measured(kDegPerRad * lean, kDegPerRad * std::sqrt(variance));

    const double height = state.vessel.controls.back();
    double farthest = 0.0;
    for (std::size_t band = 0; band < kBands; ++band) {
      double sum = 0.0;
      double at = 0.0;
      double count = 0.0;
      for (std::size_t i = 0; i < shifts.size(); ++i) {
        const double part = shifts[i].height_mm / std::max(1.0, height);
        if (part * kBands < static_cast<double>(band) ||
            part * kBands >= static_cast<double>(band + 1)) {
          continue;
        }
        sum += rest(static_cast<Eigen::Index>(i));
        at += shifts[i].height_mm;
        count += 1.0;
      }
      if (count < static_cast<double>(kFewestInBand)) continue;
      const double mean = sum / count;
      const double sd = sd_mm / std::sqrt(count);
      if (!(sd > 0.0) || std::abs(mean) / sd < farthest) continue;
      farthest = std::abs(mean) / sd;
      uneven.widest_mm = -2.0 * mean;
      uneven.widest_sd_mm = 2.0 * sd;
      uneven.at_height_mm = at / count;
    }
    uneven.beyond_chance =
        std::abs(uneven.lean_deg.value) > kBeyond * uneven.lean_deg.sd || farthest > kBeyond;
    return uneven;
  }
  return std::nullopt;
}

std::optional<OutOfRound> out_of_round_of(const Task& task, const State& state,
                                          const Posterior& posterior) {
  constexpr double kApartRad = 10.0 / kDegPerRad;
  std::vector<double> directions;
  for (const ViewTask& view : task.views) {
    const double half_turn = std::remainder(view.setting.direction_rad, std::numbers::pi);
    const bool known = std::any_of(directions.begin(), directions.end(), [&](double other) {
      return std::abs(std::remainder(half_turn - other, std::numbers::pi)) < kApartRad;
    });
    if (!known) directions.push_back(half_turn);
  }
  const std::array<int, kRoundSize>& columns = posterior.linear().round_column;
  if (directions.size() < 3 || columns[kBodyCos2] < 0 || columns[kBodySin2] < 0) {
    return std::nullopt;
  }
  const double a = state.vessel.round[kBodyCos2];
  const double b = state.vessel.round[kBodySin2];
  const double size = std::hypot(a, b);
  Posterior::Gradient g = posterior.zero();
  g(columns[kBodyCos2]) = size > 0.0 ? a / size : 1.0;
  g(columns[kBodySin2]) = size > 0.0 ? b / size : 0.0;
  // Widest and narrowest are as far above the mean as below it.
  constexpr double kPercent = 200.0;
  OutOfRound out{normal_measured(kPercent * size, kPercent * std::sqrt(posterior.variance(g)))};
  out.percent.low95 = std::max(0.0, out.percent.low95);
  return out;
}

}  // namespace potshadow::internal

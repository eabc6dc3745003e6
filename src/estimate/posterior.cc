// SPDX-License-Identifier: MIT
#include "estimate/posterior.h"

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <vector>

#include "estimate/known_size.h"
#include "estimate/proportion_kinds.h"
#include "photo/focal.h"
#include "vessel/sizes.h"

namespace potshadow::internal {
namespace {

using Gradient = Posterior::Gradient;

// A size's value, its gradient, and the part of its variance that does not come from the estimate.
struct Reading {
  double value = 0.0;
  Gradient gradient;
  double wall_variance = 0.0;
  double hidden_variance = 0.0;
};

class SizeReader {
 public:
  SizeReader(const Task& task, const State& state, const Profile& profile,
             const Posterior& posterior)
      : task_(task), profile_(profile), posterior_(posterior), sizes_(sizes_of(profile)) {
    if (sizes_.neck) {
      neck_seen_ = outline_seen_at(state, sizes_.neck->s);
      if (!neck_seen_) notch_ml_ = notch_ml(unmarked_about(state, sizes_.neck->s));
    }
    base_mm_ = state.vessel.controls[1];
  }

  bool neck_hidden() const { return sizes_.neck.has_value() && !neck_seen_; }

  const Sizes& sizes() const { return sizes_; }

  std::optional<Reading> read(SizeName name) const {
    switch (name) {
      case SizeName::kHeight:
        return height_at(sizes_.top.s);
      case SizeName::kMaxDiameter:
        return diameter_at(sizes_.widest.s);
      case SizeName::kHeightOfMax:
        return height_of_turn(sizes_.widest.s);
      case SizeName::kNeckDiameter:
        if (!neck_seen_) return {};
        return diameter_at(sizes_.neck->s);
      case SizeName::kHeightOfNeck:
        if (!neck_seen_) return {};
        return height_of_turn(sizes_.neck->s);
      case SizeName::kRimDiameter:
        return diameter_at(1.0);
      case SizeName::kBaseDiameter:
        if (task_.input->round_base) return {};
        return diameter_at(0.0);
      case SizeName::kCapacity:
        return capacity();
    }
    return {};
  }

 private:
  // Whether a place on the profile shows in the outline, with marks close below it and above it.
  bool outline_seen_at(const State& state, double s) const {
    constexpr double kReach = 0.025;  // of the profile's length
    for (std::size_t v = 0; v < task_.views.size(); ++v) {
      const ViewTask& view = task_.views[v];
      const Sight sight = vessel_sight(view.setting, state.views[v]);
      if (!outline_seen(sight, state.vessel, s)) continue;
      bool below = false;
      bool above = false;
      for (const Match& match : match_marks(sight, state.vessel, view.marks)) {
        if (!match.on_outline()) continue;
        below = below || (match.s <= s && match.s > s - kReach);
        above = above || (match.s >= s && match.s < s + kReach);
      }
      if (below && above) return true;
    }
    return false;
  }

  Reading at(double s, std::size_t coordinate, double factor) const {
    Reading q{0.0, posterior_.zero()};
    for (const SizeTerm& term : size_terms({s, coordinate, factor}, profile_.controls().size())) {
      const ProfilePoint& c = profile_.controls()[term.index / 2];
      q.value += term.amount * (coordinate == 0 ? c.radius_mm : c.height_mm);
      posterior_.add_control(q.gradient, term.index, term.amount);
    }
    return q;
  }
  // At an extremum the place's own shift does not matter to first order.
  Reading diameter_at(double s) const { return at(s, 0, 2.0); }
  // From the foot, which stands on the shelf or hangs hidden in a stand.
  Reading height_at(double s) const {
    Reading q = at(s, 1, 1.0);
    q.value -= base_mm_;
    posterior_.add_control(q.gradient, 1, -1.0);
    return q;
  }

  // The height at which the radius turns: r'(s) = 0 moves by ds = -dr'(s) / r''(s).
  Reading height_of_turn(double s) const {
    Reading q = height_at(s);
    if (s < 1e-6 || s > 1.0 - 1e-6) return q;  // at an end the place is fixed
    const ProfileBasis basis = profile_basis(s, profile_.controls().size());
    double bend = 0.0;
    double rise = 0.0;
    for (std::size_t j = 0; j < 4; ++j) {
      bend += basis.curvature[j] * profile_.controls()[basis.first + j].radius_mm;
      rise += basis.slope[j] * profile_.controls()[basis.first + j].height_mm;
    }
    if (bend == 0.0) return q;
    for (std::size_t j = 0; j < 4; ++j) {
      posterior_.add_control(q.gradient, 2 * (basis.first + j), -rise / bend * basis.slope[j]);
    }
    return q;
  }

  Reading capacity() const {
    constexpr int kSlices = 120;
    const double wall = task_.input->wall_mm;
    Reading q{capacity_ml(profile_, Mm{wall}, kSlices), posterior_.zero()};
    const double step = 1e-3 * sizes_.max_diameter_mm;
    std::vector<ProfilePoint> moved = profile_.controls();
    for (std::size_t i = 0; i < 2 * moved.size(); ++i) {
      if (posterior_.linear().control_column[i] < 0) continue;
      double& coordinate = i % 2 == 0 ? moved[i / 2].radius_mm : moved[i / 2].height_mm;
      const double kept = coordinate;
      coordinate = kept + step;
      if (const auto profile = Profile::from_controls(moved)) {
        posterior_.add_control(q.gradient, i,
                               (capacity_ml(*profile, Mm{wall}, kSlices) - q.value) / step);
      }
      coordinate = kept;
    }
    const double wall_sd = task_.input->wall_sd_mm;
    if (wall_sd > 0.0) {
      const double thin = capacity_ml(profile_, Mm{std::max(0.0, wall - wall_sd)}, kSlices);
      const double thick = capacity_ml(profile_, Mm{wall + wall_sd}, kSlices);
      q.wall_variance = std::pow((thin - thick) / 2.0, 2);
    }
    q.hidden_variance = notch_ml_ * notch_ml_ / 3.0;  // mean square of what is between 0 and that
    return q;
  }

  // The stretch of the profile about `s` that no mark shows, in any photograph.
  std::pair<double, double> unmarked_about(const State& state, double s) const {
    std::pair<double, double> ends{0.0, 1.0};
    for (std::size_t v = 0; v < task_.views.size(); ++v) {
      const ViewTask& view = task_.views[v];
      const Sight sight = vessel_sight(view.setting, state.views[v]);
      for (const Match& match : match_marks(sight, state.vessel, view.marks)) {
        if (match.s <= s) ends.first = std::max(ends.first, match.s);
        if (match.s >= s) ends.second = std::min(ends.second, match.s);
      }
    }
    return ends;
  }

  // What the vessel may hold less than the wall found, where that wall is hidden between two
  // places. The smoothest wall between them was taken, and half a wave may stand in from it; as
  // deep as the stretch is long is the deepest that potters' rims make (common practice, no
  // source). A wall of even thickness follows the wave, which widens it inside: what a band along
  // the wave covers more than one along the chord, by Steiner's formula for parallel curves
  // (L. A. Santalo, Integral Geometry and Geometric Probability, 1976, chapter 1, from memory).
  double notch_ml(std::pair<double, double> ends) const {
    const ProfilePoint low = profile_.at(ends.first);
    const ProfilePoint high = profile_.at(ends.second);
    const double chord = std::hypot(high.radius_mm - low.radius_mm, high.height_mm - low.height_mm);
    const double wall = task_.input->wall_mm;
    const double radius = sizes_.neck->radius_mm - wall;
    const double depth = std::min(chord, radius);
    const double wave = std::hypot(chord, std::numbers::pi * depth);
    const double along =
        2.0 / std::numbers::pi * wave * std::comp_ellint_2(std::numbers::pi * depth / wave);
    // The integral of pi (r^2 - (r - d sin x)^2) over the half wave, and by Pappus the wall's.
    const double outside = chord * depth * (4.0 * radius - std::numbers::pi / 2.0 * depth);
    const double inside = 2.0 * std::numbers::pi * (radius - depth / 2.0) * wall * (along - chord);
    constexpr double kMlPerMm3 = 1e-3;
    return kMlPerMm3 * (outside + inside);
  }

  const Task& task_;
  const Profile& profile_;
  const Posterior& posterior_;
  Sizes sizes_;
  double base_mm_ = 0.0;
  double notch_ml_ = 0.0;
  bool neck_seen_ = false;
};

// Shares of variance with the marks' share inflated.
std::array<double, kDoubtCount> inflated(std::array<double, kDoubtCount> shares, double inflation) {
  shares[static_cast<std::size_t>(DoubtSource::kMarks)] *= inflation * inflation;
  return shares;
}

double sum(const std::array<double, kDoubtCount>& shares) {
  double total = 0.0;
  for (const double share : shares) total += share;
  return total;
}

// Whether a size hangs on a part that is neither seen nor bounded.
bool left_open(const Task& task, SizeName name, const Sizes& sizes) {
  const std::optional<HiddenPart>& foot = task.input->hidden_foot;
  const std::optional<HiddenPart>& rim = task.input->hidden_rim;
  const bool rim_open = rim && !(rim->low_mm && rim->high_mm);
  switch (name) {
    case SizeName::kHeight:
      return rim_open;
    case SizeName::kRimDiameter:
      return rim.has_value();
    case SizeName::kBaseDiameter:
      return foot.has_value();
    case SizeName::kCapacity:
      return foot.has_value() || rim.has_value();
    case SizeName::kMaxDiameter:
    case SizeName::kHeightOfMax:
      return rim && sizes.widest.s > 0.98;  // the wall still widens where it is last seen
    case SizeName::kNeckDiameter:
    case SizeName::kHeightOfNeck:
      return false;
  }
  return false;
}

CameraAnswer camera_of(const ViewTask& task, const View& state, const ViewColumns& columns,
                       double height_mm, const Posterior& posterior) {
  CameraAnswer camera;
  const Lens<double> lens = lens_of(state.lens.data(), task.setting.focal_start_px);
  camera.focal_35mm =
      focal_35mm_from_px(lens.focal_px, task.photo->width_px, task.photo->height_px);
  const auto unit = [&](int column) {
    Gradient g = posterior.zero();
    if (column >= 0) g(column) = 1.0;
    return g;
  };
  camera.focal_35mm_sd =
      camera.focal_35mm * std::sqrt(posterior.variance(unit(columns.lens[kLogFocal])));
  const double across = state.pose[kDistanceMm];
  const double up = state.pose[kEyeHeightMm] - height_mm / 2.0;
  camera.distance_mm = std::hypot(across, up);
  constexpr double kDegPerRad = 180.0 / std::numbers::pi;
  camera.elevation_deg = std::atan2(up, across) * kDegPerRad;
  const double squared = across * across + up * up;
  Gradient g = posterior.zero();
  if (columns.pose[kDistanceMm] >= 0) g(columns.pose[kDistanceMm]) = -up / squared;
  if (columns.pose[kEyeHeightMm] >= 0) g(columns.pose[kEyeHeightMm]) = across / squared;
  camera.elevation_sd_deg = std::sqrt(posterior.variance(g)) * kDegPerRad;
  return camera;
}

// In the vessel's own frame, in which a photograph's azimuths are turned by its direction.
SolvedView solved_view_of(const Setting& setting, const View& view) {
  Eigen::Matrix3d turn;
  ceres::AngleAxisToRotationMatrix(view.pose.data(), turn.data());
  const Eigen::Matrix3d vessel_from_photo =
      Eigen::AngleAxisd(setting.direction_rad, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  SolvedView out;
  out.eye_mm =
      vessel_from_photo * Eigen::Vector3d(0.0, -view.pose[kDistanceMm], view.pose[kEyeHeightMm]);
  out.camera_from_vessel = turn * setting.camera_from_vessel_start * vessel_from_photo.transpose();
  out.lens = lens_of(view.lens.data(), setting.focal_start_px);
  if (setting.glass) {
    out.pane = {vessel_from_photo * pane_normal(view.pane.data()), view.pane[kPaneThicknessMm],
                setting.glass_index};
  }
  return out;
}

// The gradient of the cost by the logarithm of the smoothness's standard deviation is -|r|^2 over
// its rows, and the unknowns follow it by C times 2 J^T r. That logarithm is known to 1 / sqrt(2
// q), with q the freedom that the marks take from these rows; and that of a knot's own relaxation,
// being half the logarithm of a gamma variable of (3 + 2) / 2 (the posterior of a Student-t
// weight), to half the root of trigamma(2.5).
//
// Smoothing also flattens: the posterior allows for it on the average along the wall, but a foot's
// or a belly's bend is never of the other sign. What smoothing took away is about what it would
// take once more from the wall that was found, C times J^T r (J. W. Tukey's "twicing", Exploratory
// Data Analysis, 1977, from memory); all of it counts as doubt.
Eigen::MatrixXd doubt_of_smoothness(const Linear& linear, const Eigen::MatrixXd& inverse_root) {
  constexpr double kKnotSd = 0.35;
  std::vector<Eigen::Index> rows;  // two a knot
  for (std::size_t i = 0; i < linear.rows.size(); ++i) {
    if (linear.rows[i].kind == RowKind::kSmoothness) rows.push_back(static_cast<Eigen::Index>(i));
  }
  const Eigen::MatrixXd own = linear.jacobian(rows, Eigen::all);
  const auto knots = static_cast<Eigen::Index>(rows.size() / 2);
  Eigen::MatrixXd doubt(linear.jacobian.cols(), knots + 1);
  for (Eigen::Index k = 0; k < knots; ++k) {
    doubt.col(k) =
        2.0 * own.middleRows<2>(2 * k).transpose() * linear.residual(rows)(Eigen::seqN(2 * k, 2));
  }
  const double taken = static_cast<double>(rows.size()) - (own * inverse_root).squaredNorm();
  const double scale_variance = 0.5 / std::max(1.0, taken);
  constexpr double kFlattened = 0.5;  // of the columns' sum, which holds J^T r twice
  doubt.col(knots) =
      doubt.leftCols(knots).rowwise().sum() * std::sqrt(scale_variance + kFlattened * kFlattened);
  doubt.leftCols(knots) *= kKnotSd;
  return doubt;
}

// What both readings' doubts have in common is their covariance, over all the doubt of each; that
// of a wall or of a hidden foot adds to the latter. Marks that scatter more than they should do so
// in both.
std::vector<std::vector<double>> correlation_of(const std::vector<MeasuredSize>& sizes,
                                                const std::vector<Gradient>& gradients,
                                                const Posterior& posterior) {
  std::vector<double> sds;
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const double alone = posterior.variance(gradients[i]);
    const double own = std::pow(sizes[i].measured.sd, 2);
    sds.push_back(std::sqrt(std::max(alone, own)));
  }
  std::vector<std::vector<double>> correlation(sizes.size(),
                                               std::vector<double>(sizes.size(), 1.0));
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const double both = sds[i] * sds[j];
      const double shared =
          both > 0.0 ? posterior.covariance(gradients[i], gradients[j]) / both : 0.0;
      correlation[i][j] = correlation[j][i] = shared;
    }
  }
  return correlation;
}

}  // namespace

Result<Posterior> Posterior::from(Linear linear, const Gradient& shift) {
  const auto unpinned = [](const std::string& what) {
    return Problem{Code::kCannotBeAnswered, "The photograph does not pin down " + what + ".",
                   "Add marks on the rim, the foot and both outlines, or mark another reference.",
                   "rank-deficient"};
  };
  if (linear.jacobian.rows() == 0 || !linear.jacobian.allFinite()) {
    return unpinned("the vessel's size");
  }
  // Columns of unit length, so that rank does not depend on units.
  const Eigen::Index n = linear.jacobian.cols();
  Eigen::VectorXd scale(n);
  for (Eigen::Index i = 0; i < n; ++i) scale(i) = linear.jacobian.col(i).norm();
  const auto name_of = [&](Eigen::Index column) -> std::string {
    for (const ViewColumns& view : linear.views) {
      for (const int c : view.pose) {
        if (c == column) return "where the camera stood";
      }
      for (const int c : view.lens) {
        if (c == column) return "the lens";
      }
    }
    for (const int c : linear.control_column) {
      if (c == column) return "a part of the profile";
    }
    return "the reference's place";
  };
  for (Eigen::Index i = 0; i < n; ++i) {
    if (!(scale(i) > 0.0)) return unpinned(name_of(i));
  }
  const Eigen::HouseholderQR<Eigen::MatrixXd> qr(linear.jacobian *
                                                 scale.cwiseInverse().asDiagonal());
  const Eigen::MatrixXd r = qr.matrixQR().topRows(n).triangularView<Eigen::Upper>();
  constexpr double kLeastPivot = 1e-9;
  for (Eigen::Index i = 0; i < n; ++i) {
    if (!(std::abs(r(i, i)) > kLeastPivot)) return unpinned(name_of(i));
  }
  Posterior posterior;
  posterior.inverse_root_ =
      scale.cwiseInverse().asDiagonal() *
      Eigen::MatrixXd(r.triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(n, n)));
  posterior.smoothness_doubt_ = doubt_of_smoothness(linear, posterior.inverse_root_);
  if (shift.size() > 0) {
    Eigen::MatrixXd& doubt = posterior.smoothness_doubt_;
    doubt.conservativeResize(Eigen::NoChange, doubt.cols() + 1);
    doubt.rightCols<1>() = linear.jacobian.transpose() * (linear.jacobian * shift);
  }
  posterior.linear_ = std::move(linear);
  return posterior;
}

Eigen::VectorXd Posterior::spread(const Gradient& gradient) const {
  return inverse_root_ * (inverse_root_.transpose() * gradient);
}

void Posterior::add_control(Gradient& gradient, std::size_t coordinate, double amount) const {
  const int column = linear_.control_column[coordinate];
  if (column >= 0) gradient(column) += amount;
}

double Posterior::variance(const Gradient& gradient) const {
  return covariance(gradient, gradient);
}

double Posterior::covariance(const Gradient& a, const Gradient& b) const {
  const Eigen::VectorXd by_a = spread(a);
  return by_a.dot(b) +
         (smoothness_doubt_.transpose() * by_a).dot(smoothness_doubt_.transpose() * spread(b));
}

Eigen::MatrixXd Posterior::covariance_matrix(double inflation) const {
  const Eigen::MatrixXd bare = inverse_root_ * inverse_root_.transpose();
  const Eigen::MatrixXd bent = bare * smoothness_doubt_;
  Eigen::MatrixXd covariance = bare + inflation * inflation * (bent * bent.transpose());
  if (inflation == 1.0) return covariance;
  // The marks' rows bring (J_marks C)^T (J_marks C) of it.
  Eigen::MatrixXd marks(linear_.jacobian.rows(), linear_.jacobian.cols());
  Eigen::Index count = 0;
  for (std::size_t i = 0; i < linear_.rows.size(); ++i) {
    if (linear_.rows[i].source != DoubtSource::kMarks) continue;
    marks.row(count++) = linear_.jacobian.row(static_cast<Eigen::Index>(i));
  }
  const Eigen::MatrixXd spread = marks.topRows(count) * bare;
  covariance += (inflation * inflation - 1.0) * (spread.transpose() * spread);
  return covariance;
}

std::array<double, kDoubtCount> Posterior::shares(const Gradient& gradient) const {
  const Eigen::VectorXd by_gradient = spread(gradient);
  const Eigen::VectorXd by_row = linear_.jacobian * by_gradient;
  std::array<double, kDoubtCount> out{};
  out[static_cast<std::size_t>(DoubtSource::kMarks)] =
      (smoothness_doubt_.transpose() * by_gradient).squaredNorm();
  for (std::size_t i = 0; i < linear_.rows.size(); ++i) {
    const double part = by_row(static_cast<Eigen::Index>(i));
    out[static_cast<std::size_t>(linear_.rows[i].source)] += part * part;
  }
  return out;
}

std::vector<std::pair<SizeName, Gradient>> size_gradients(const Task& task, const State& state,
                                                          const Profile& profile,
                                                          const Posterior& posterior) {
  const SizeReader reader(task, state, profile, posterior);
  std::vector<std::pair<SizeName, Gradient>> out;
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    const auto name = static_cast<SizeName>(i);
    // The capacity's gradient is slow, and it follows the others.
    if (name == SizeName::kCapacity || left_open(task, name, reader.sizes())) continue;
    if (auto reading = reader.read(name)) out.emplace_back(name, std::move(reading->gradient));
  }
  return out;
}

Answer answer_of(const Task& task, const State& state, const Profile& profile,
                 const Posterior& posterior, double inflation) {
  const SizeReader reader(task, state, profile, posterior);
  Answer answer{.profile = profile, .photos = std::vector<PhotoAnswer>(task.views.size())};
  std::array<std::optional<Reading>, kSizeCount> quantities;
  std::vector<Gradient> gradients;
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    const auto name = static_cast<SizeName>(i);
    quantities[i] = reader.read(name);
    if (quantities[i] && left_open(task, name, reader.sizes())) quantities[i].reset();
    if (!quantities[i]) continue;
    auto shares = inflated(posterior.shares(quantities[i]->gradient), inflation);
    shares[static_cast<std::size_t>(DoubtSource::kWall)] += quantities[i]->wall_variance;
    shares[static_cast<std::size_t>(DoubtSource::kHidden)] += quantities[i]->hidden_variance;
    const bool from_foot = name == SizeName::kHeight || name == SizeName::kHeightOfMax ||
                           name == SizeName::kHeightOfNeck;
    if (task.foot && from_foot) {
      shares[static_cast<std::size_t>(DoubtSource::kHidden)] += std::pow(task.foot->sd_mm, 2);
    }
    const double variance = sum(shares);
    MeasuredSize size;
    size.name = name;
    size.measured = normal_measured(quantities[i]->value, std::sqrt(variance));
    const double own = shares[static_cast<std::size_t>(DoubtSource::kOutOfRound)];
    size.camera_sd = std::sqrt(std::max(0.0, variance - own));
    for (std::size_t k = 0; k < kDoubtCount; ++k) {
      size.budget[k] = variance > 0.0 ? shares[k] / variance : 0.0;
    }
    answer.sizes.push_back(size);
    gradients.push_back(quantities[i]->gradient);
  }
  answer.size_correlation = correlation_of(answer.sizes, gradients, posterior);

  for (const ProportionKind& kind : kProportionKinds) {
    const auto& above = quantities[static_cast<std::size_t>(kind.above)];
    const auto& below = quantities[static_cast<std::size_t>(kind.below)];
    if (!above || !below || !(below->value > 0.0)) continue;
    const double ratio = above->value / below->value;
    const Gradient gradient = (above->gradient - ratio * below->gradient) / below->value;
    const double variance = sum(inflated(posterior.shares(gradient), inflation));
    answer.proportions.push_back(
        {kind.key, kind.words, normal_measured(ratio, std::sqrt(variance))});
  }

  if (reader.neck_hidden()) {
    answer.notes.push_back(
        {"The neck is hidden behind the rim or is not marked, so it is left out, and the capacity "
         "allows for what it may turn in. A photograph from lower down would show it.",
         false});
  }

  constexpr std::size_t kRows = 61;
  Eigen::MatrixXd by_row(posterior.linear().jacobian.cols(), static_cast<Eigen::Index>(kRows));
  for (std::size_t i = 0; i < kRows; ++i) {
    const double s = static_cast<double>(i) / static_cast<double>(kRows - 1);
    const ProfilePoint p = profile.at(s);
    const ProfilePoint normal = profile.normal_at(s);
    const ProfileBasis basis = profile_basis(s, profile.controls().size());
    Gradient gradient = posterior.zero();
    for (std::size_t j = 0; j < 4; ++j) {
      posterior.add_control(gradient, 2 * (basis.first + j), normal.radius_mm * basis.weight[j]);
      posterior.add_control(gradient, 2 * (basis.first + j) + 1,
                            normal.height_mm * basis.weight[j]);
    }
    answer.rows.push_back({p.height_mm, p.radius_mm,
                           std::sqrt(sum(inflated(posterior.shares(gradient), inflation)))});
    by_row.col(static_cast<Eigen::Index>(i)) = gradient;
  }
  answer.rows_covariance = by_row.transpose() * posterior.covariance_matrix(inflation) * by_row;
  answer.oval = {state.vessel.round[kBodyCos2], state.vessel.round[kBodySin2]};
  for (std::size_t v = 0; v < task.views.size(); ++v) {
    answer.photos[v].view = solved_view_of(task.views[v].setting, state.views[v]);
    answer.photos[v].camera = camera_of(task.views[v], state.views[v], posterior.linear().views[v],
                                        reader.sizes().height_mm, posterior);
  }
  return answer;
}

}  // namespace potshadow::internal

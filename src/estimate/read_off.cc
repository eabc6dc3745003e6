// SPDX-License-Identifier: MIT
#include "estimate/read_off.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include "estimate/proportion_kinds.h"
#include "estimate/size_reader.h"
#include "photo/focal.h"

namespace potshadow::internal {
namespace {

using Gradient = Posterior::Gradient;

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
  std::array<std::optional<SizeReading>, kSizeCount> quantities;
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

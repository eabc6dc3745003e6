// SPDX-License-Identifier: MIT
#include "estimate/disc.h"

#include <algorithm>
#include <limits>
#include <numbers>

namespace potshadow::internal {
namespace {

constexpr std::size_t kEdgeSteps = 64;
constexpr int kRefinements = 2;  // each squares the distance along the edge

double edge_angle(std::size_t i) {
  return 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(kEdgeSteps);
}

}  // namespace

std::vector<int> fixed_entries(const DiscReference& disc, const Offset& offset) {
  std::vector<int> fixed;
  if (!stands_on_edge(disc.place) && disc.place != Place::kBeside) fixed.push_back(kYawRad);
  if (disc.place != Place::kLeaning) fixed.push_back(kLeanRad);
  if (disc.size_sd_mm == 0.0) fixed.push_back(kWidthMm);
  fixed.push_back(kHeightMm);
  if (offset.given && offset.sd_mm == 0.0) fixed.push_back(kOffsetMm);
  return fixed;
}

Eigen::Vector2d edge_image(const Setting& setting, const View& view, const DiscReference& disc,
                           std::size_t d, double angle_rad) {
  const Eigen::Vector3d point =
      disc_point(disc.place, view.discs[d].data(), view.pane.data(), view.tilt.data(), angle_rad);
  return image_of<double>(setting, view.pose.data(), view.lens.data(), view.pane.data(), point,
                          is_behind_glass(disc));
}

LeanDoubt lean_doubt(const View& view, const DiscReference& disc, std::size_t d) {
  if (disc.place != Place::kLeaning) return {};
  const auto& block = view.discs[d];
  const double radius = block[kWidthMm] / 2.0;
  const double c = std::cos(block[kYawRad]);
  const double s = std::sin(block[kYawRad]);
  const double lean = block[kLeanRad];
  const Eigen::Vector3d up(-s * std::sin(lean), c * std::sin(lean), std::cos(lean));
  const Eigen::Vector3d normal(s * std::cos(lean), -c * std::cos(lean), std::sin(lean));
  const Eigen::Vector3d centre =
      Eigen::Vector3d(block[kAlongMm], block[kAcrossMm], -block[kOffsetMm]) + radius * up;
  const Eigen::Vector3d eye(0.0, -view.pose[kDistanceMm], view.pose[kEyeHeightMm]);
  const Eigen::Vector3d sight = (eye - centre).normalized();
  const Eigen::Vector3d mirrored = 2.0 * normal.dot(sight) * sight - normal;
  const double other = std::asin(std::clamp(mirrored.z(), -1.0, 1.0));
  const auto likelihood = [](double angle) {
    const double off = (angle - kLeanMeanRad) / kLeanSdRad;
    return std::exp(-0.5 * off * off);
  };
  const double share = likelihood(other) / (likelihood(other) + likelihood(lean));
  const double apart = radius * (std::cos(lean) - std::cos(other));
  return {share * apart, std::sqrt(share * (1.0 - share)) * std::abs(apart)};
}

std::vector<EdgeMatch> match_edge(const Setting& setting, const View& view,
                                  const DiscReference& disc, std::size_t d) {
  const auto image = [&](double angle) { return edge_image(setting, view, disc, d, angle); };
  std::array<Eigen::Vector2d, kEdgeSteps> round;
  for (std::size_t i = 0; i < kEdgeSteps; ++i) round[i] = image(edge_angle(i));
  std::vector<EdgeMatch> matches;
  matches.reserve(disc.edge.size());
  for (const PhotoPoint& mark : disc.edge) {
    const Eigen::Vector2d pixel(mark.x_px, mark.y_px);
    EdgeMatch match;
    double best = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i < kEdgeSteps; ++i) {
      const double off = (round[i] - pixel).squaredNorm();
      if (off < best) {
        best = off;
        match.angle_rad = edge_angle(i);
      }
    }
    constexpr double kStep = 1e-4;
    constexpr double kReach = 2.0 * std::numbers::pi / static_cast<double>(kEdgeSteps);
    for (int i = 0; i < kRefinements; ++i) {
      const Eigen::Vector2d here = image(match.angle_rad);
      const Eigen::Vector2d tangent =
          (image(match.angle_rad + kStep) - image(match.angle_rad - kStep)) / (2.0 * kStep);
      if (!(tangent.squaredNorm() > 0.0)) break;
      match.normal = Eigen::Vector2d(tangent.y(), -tangent.x()).normalized();
      match.angle_rad +=
          std::clamp((pixel - here).dot(tangent) / tangent.squaredNorm(), -kReach, kReach);
    }
    matches.push_back(match);
  }
  return matches;
}

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
#include "estimate/picture.h"

#include <ceres/jet.h>
#include <gtest/gtest.h>

#include <array>
#include <random>

namespace potshadow::internal {
namespace {

constexpr int kUnknowns = int{kPoseSize} + int{kLensSize} + int{kPaneSize} + 3;
using Jet = ceres::Jet<double, kUnknowns>;

// Rounding over some hundred operations, against the largest derivative of its kind.
constexpr double kRounding = 1e-12;
constexpr double kPixels = 1000.0;  // across the picture

template <std::size_t Size>
std::array<Jet, Size> as_jets(const std::array<double, Size>& block, int& next) {
  std::array<Jet, Size> jets;
  for (std::size_t i = 0; i < Size; ++i) jets[i] = Jet(block[i], next++);
  return jets;
}

TEST(Picture, MovesAsAutomaticDerivativesSay) {
  std::mt19937_64 random(20260704);
  std::normal_distribution<double> normal;
  int cases = 0;
  for (int i = 0; i < 200; ++i) {
    Setting setting;
    setting.camera_from_vessel_start << 1, 0, 0, 0, -0.28, -0.96, 0, 0.96, -0.28;
    setting.focal_start_px = 2000.0;
    setting.glass = i % 2 == 0;
    // Not turned at all, or so far that the automatic derivatives keep their digits.
    const double turn = i / 2 % 2 == 0 ? 0.0 : 0.1;
    const std::array<double, kPoseSize> pose = {
        turn * normal(random), turn * normal(random), turn * normal(random),
        800.0 + 50.0 * normal(random), 300.0 + 50.0 * normal(random)};
    const std::array<double, kLensSize> lens = {0.02 * normal(random), 1000.0, 750.0,
                                                0.02 * normal(random), 0.01 * normal(random)};
    const std::array<double, kPaneSize> pane = {0.2 * normal(random), 8.0};
    const Eigen::Vector3d point(100.0 * normal(random), 100.0 * normal(random), 150.0);
    const Eigen::Vector2d direction(normal(random), normal(random));

    int next = 0;
    const auto pose_jets = as_jets(pose, next);
    const auto lens_jets = as_jets(lens, next);
    const auto pane_jets = as_jets(pane, next);
    const Vector3<Jet> point_jets(Jet(point.x(), next), Jet(point.y(), next + 1),
                                  Jet(point.z(), next + 2));
    const Vector2<Jet> seen =
        image_of(setting, pose_jets.data(), lens_jets.data(), pane_jets.data(), point_jets, true);
    const Eigen::Matrix<double, kUnknowns, 1> expected =
        direction.x() * seen.x().v + direction.y() * seen.y().v;

    const Picture picture =
        picture_along(setting, pose.data(), lens.data(), pane.data(), point, direction);
    EXPECT_NEAR(picture.image.x(), seen.x().a, kRounding * kPixels);
    EXPECT_NEAR(picture.image.y(), seen.y().a, kRounding * kPixels);
    int at = 0;
    const auto compare = [&](const auto& slopes) {
      const double largest =
          expected.segment(at, static_cast<int>(slopes.size())).lpNorm<Eigen::Infinity>();
      for (const double slope : slopes) {
        EXPECT_NEAR(slope, expected(at), kRounding * largest) << "unknown " << at;
        ++at;
        ++cases;
      }
    };
    compare(picture.by_pose);
    compare(picture.by_lens);
    compare(picture.by_pane);
    compare(picture.by_point);
  }
  EXPECT_EQ(cases, 200 * kUnknowns);
}

}  // namespace
}  // namespace potshadow::internal

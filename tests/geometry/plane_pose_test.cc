// SPDX-License-Identifier: MIT
// Poses of rectangles: known ones come back from exact corners, and nonsense is refused.
#include "geometry/plane_pose.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

namespace potshadow {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;
// Exact corners give the pose up to rounding. The rotation passes through a rotation vector, which
// loses half of its digits near half a turn (3e-9 here).
constexpr double kSameRotation = 1e-8;
// Lengths up to a metre, with slack of a hundred over what rounding leaves.
constexpr double kSameOriginMm = 1e-9;
// In the normalised image, of size one; three thousand pixels make it.
constexpr double kSameMisfit = 1e-10;
constexpr int kPoses = 200;

// An ID-1 card, ISO/IEC 7810: 85.60 x 53.98 mm.
constexpr Mm kWidth{85.60};
constexpr Mm kHeight{53.98};

PlanePose pose_of(double tilt, double direction, double turn, const Eigen::Vector3d& origin) {
  // Facing the camera: x right, y up, z towards it; then turned in its plane and tilted.
  Eigen::Matrix3d facing;
  facing << 1, 0, 0, 0, -1, 0, 0, 0, -1;
  const Eigen::Vector3d axis(std::cos(direction), std::sin(direction), 0.0);
  PlanePose pose;
  pose.camera_from_plane = Eigen::AngleAxisd(tilt, axis).toRotationMatrix() * facing *
                           Eigen::AngleAxisd(turn, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  pose.origin_mm = origin;
  return pose;
}

std::array<Eigen::Vector2d, 4> corners_of(const PlanePose& pose) {
  const std::array<Eigen::Vector3d, 4> plane{
      Eigen::Vector3d(0, 0, 0), Eigen::Vector3d(kWidth.value, 0, 0),
      Eigen::Vector3d(kWidth.value, kHeight.value, 0), Eigen::Vector3d(0, kHeight.value, 0)};
  std::array<Eigen::Vector2d, 4> corners;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Eigen::Vector3d at = pose.camera_from_plane * plane.at(i) + pose.origin_mm;
    corners.at(i) = at.head<2>() / at.z();
  }
  return corners;
}

TEST(PlanePose, KnownPosesComeBack) {
  std::mt19937_64 random(7810);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  int recovered = 0;
  int with_second = 0;
  for (int i = 0; i < kPoses; ++i) {
    const double z = between(300.0, 1000.0);
    const PlanePose truth =
        pose_of(between(10.0, 75.0) * kDegree, between(0.0, 360.0) * kDegree,
                between(-180.0, 180.0) * kDegree,
                Eigen::Vector3d(between(-0.3, 0.3) * z, between(-0.3, 0.3) * z, z));
    const auto poses = rectangle_poses(corners_of(truth), kWidth, kHeight);
    ASSERT_TRUE(poses.ok());
    ASSERT_GE(poses->size(), 1U);
    const PlanePose& first = poses->front();
    EXPECT_NEAR((first.camera_from_plane - truth.camera_from_plane).norm(), 0.0, kSameRotation);
    EXPECT_NEAR((first.origin_mm - truth.origin_mm).norm(), 0.0, kSameOriginMm);
    EXPECT_NEAR(first.rms_normalised, 0.0, kSameMisfit);
    if (poses->size() == 2) {
      const PlanePose& second = poses->back();
      EXPECT_GE(second.rms_normalised, first.rms_normalised) << "the better one first";
      EXPECT_GT((second.camera_from_plane - first.camera_from_plane).norm(), kSameRotation);
      ++with_second;
    }
    ++recovered;
  }
  EXPECT_EQ(recovered, kPoses);
  EXPECT_EQ(with_second, kPoses) << "a tilted rectangle always has its mirror pose";
}

TEST(PlanePose, MisfitIsThatOfTheCorners) {
  // The second pose of exact corners: its misfit, worked out afresh.
  const PlanePose truth = pose_of(40.0 * kDegree, 0.3, 0.2, Eigen::Vector3d(-40.0, 30.0, 600.0));
  const auto corners = corners_of(truth);
  const auto poses = rectangle_poses(corners, kWidth, kHeight);
  ASSERT_TRUE(poses.ok());
  ASSERT_EQ(poses->size(), 2U);
  const auto again = corners_of(poses->back());
  double sum = 0.0;
  for (std::size_t i = 0; i < corners.size(); ++i)
    sum += (again.at(i) - corners.at(i)).squaredNorm();
  EXPECT_NEAR(poses->back().rms_normalised, std::sqrt(sum / 4.0), kSameMisfit);
  EXPECT_GT(poses->back().rms_normalised, 100.0 * kSameMisfit);
}

TEST(PlanePose, FarRectangleHasTwoPosesThatFitAlmostAlike) {
  // Seen from far away perspective fades, and tilting left or right looks the same.
  const PlanePose truth = pose_of(40.0 * kDegree, 0.3, 0.2, Eigen::Vector3d(-40.0, 30.0, 20000.0));
  const auto poses = rectangle_poses(corners_of(truth), kWidth, kHeight);
  ASSERT_TRUE(poses.ok());
  ASSERT_EQ(poses->size(), 2U);
  // Two reflections of the plane's normal in the sight line: equal tilts on opposite sides.
  const Eigen::Vector3d sight = truth.origin_mm.normalized();
  const double first = std::abs(poses->front().camera_from_plane.col(2).dot(sight));
  const double second = std::abs(poses->back().camera_from_plane.col(2).dot(sight));
  constexpr double kFar = 0.01;  // the card's size over its distance, with slack of two
  EXPECT_NEAR(first, second, kFar);
  const double one_pixel = 1.0 / 3000.0;  // of a phone's picture
  EXPECT_LT(poses->back().rms_normalised, one_pixel);
}

TEST(PlanePose, CollinearCornersAreRefused) {
  int refused = 0;
  for (const double degrees : {0.0, 17.0, 45.0, 90.0, 121.0}) {
    const Eigen::Vector2d along(std::cos(degrees * kDegree), std::sin(degrees * kDegree));
    const Eigen::Vector2d start(0.05, -0.08);
    const auto poses = rectangle_poses(
        {start, start + 0.1 * along, start + 0.25 * along, start + 0.3 * along}, kWidth, kHeight);
    ASSERT_FALSE(poses.ok()) << degrees;
    EXPECT_EQ(poses.problem().code, Code::kBadMarks);
    EXPECT_FALSE(poses.problem().what.empty());
    EXPECT_FALSE(poses.problem().next.empty());
    ++refused;
  }
  EXPECT_EQ(refused, 5);
}

TEST(PlanePose, CornersInOnePlaceAndNotNumbersAreRefused) {
  const Eigen::Vector2d here(0.1, 0.1);
  const auto same = rectangle_poses({here, here, here, here}, kWidth, kHeight);
  ASSERT_FALSE(same.ok());
  EXPECT_EQ(same.problem().code, Code::kBadMarks);
  const Eigen::Vector2d none(std::numeric_limits<double>::quiet_NaN(), 0.0);
  const auto bad = rectangle_poses(
      {none, Eigen::Vector2d(0.1, 0), Eigen::Vector2d(0.1, -0.1), Eigen::Vector2d(0, -0.1)}, kWidth,
      kHeight);
  ASSERT_FALSE(bad.ok());
  EXPECT_EQ(bad.problem().code, Code::kBadMarks);
}

}  // namespace
}  // namespace potshadow

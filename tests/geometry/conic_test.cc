// SPDX-License-Identifier: MIT
// Ellipses and circles with known answers come back from exact points.
#include "geometry/conic.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace potshadow {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kDegree = kPi / 180.0;
// Exact points on an ellipse give it back up to rounding: the fit squares its numbers, so half of
// the digits are left at worst, for thin ellipses (2e-9 here). Relative to the major axis.
constexpr double kSameEllipse = 1e-8;
// The same for circle poses, in radii; a circle twenty radii away loses two digits more.
constexpr double kSamePose = 1e-6;
// Conics are compared with length one.
constexpr double kSameConic = 1e-7;
constexpr int kEllipses = 100;
constexpr int kCircles = 200;
constexpr int kPoints = 36;

class Chance {
 public:
  explicit Chance(unsigned seed) : random_(seed) {}
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random_);
  }

 private:
  std::mt19937_64 random_;
};

std::vector<Eigen::Vector2d> ellipse_points(const Ellipse& e, int count, double from, double to) {
  std::vector<Eigen::Vector2d> points;
  const Eigen::Vector2d u(std::cos(e.angle.value), std::sin(e.angle.value));
  const Eigen::Vector2d v(-u.y(), u.x());
  for (int i = 0; i < count; ++i) {
    const double a = from + (to - from) * i / count;
    points.push_back(e.centre + e.semi_major * std::cos(a) * u + e.semi_minor * std::sin(a) * v);
  }
  return points;
}

// The smallest turn between two directions of a line.
double turn_between(double a, double b) { return std::abs(std::remainder(a - b, kPi)); }

TEST(FitEllipse, ExactEllipsesComeBack) {
  Chance chance(5);
  int recovered = 0;
  for (int i = 0; i < kEllipses; ++i) {
    Ellipse truth;
    truth.centre = {chance.between(0.0, 4000.0), chance.between(0.0, 3000.0)};
    truth.semi_major = chance.between(100.0, 1000.0);
    truth.semi_minor = truth.semi_major * chance.between(0.05, 0.9);
    truth.angle = Rad{chance.between(-kPi / 2.0, kPi / 2.0)};
    const auto conic = fit_ellipse(ellipse_points(truth, kPoints, 0.0, 2.0 * kPi));
    ASSERT_TRUE(conic.ok());
    const auto found = ellipse_of(*conic);
    ASSERT_TRUE(found.ok());
    const double near = kSameEllipse * truth.semi_major;
    EXPECT_NEAR((found->centre - truth.centre).norm(), 0.0, near);
    EXPECT_NEAR(found->semi_major, truth.semi_major, near);
    EXPECT_NEAR(found->semi_minor, truth.semi_minor, near);
    EXPECT_NEAR(turn_between(found->angle.value, truth.angle.value), 0.0, kSameEllipse);
    ++recovered;
  }
  EXPECT_EQ(recovered, kEllipses);
}

TEST(FitEllipse, FivePointsOnPartOfAnEllipseAreEnough) {
  const Ellipse truth{{2000.0, 1200.0}, 600.0, 150.0, Rad{0.05}};
  const auto conic = fit_ellipse(ellipse_points(truth, 5, 0.0, 1.2 * kPi));
  ASSERT_TRUE(conic.ok());
  const auto found = ellipse_of(*conic);
  ASSERT_TRUE(found.ok());
  EXPECT_NEAR((found->centre - truth.centre).norm(), 0.0, kSameEllipse * truth.semi_major);
  EXPECT_NEAR(found->semi_minor, truth.semi_minor, kSameEllipse * truth.semi_major);
}

TEST(FitEllipse, FewerThanFivePointsAreTooFew) {
  const Ellipse truth{{0.0, 0.0}, 2.0, 1.0, Rad{0.0}};
  int refused = 0;
  for (int count = 0; count < 5; ++count) {
    const auto conic = fit_ellipse(ellipse_points(truth, count, 0.0, 2.0 * kPi));
    ASSERT_FALSE(conic.ok());
    EXPECT_EQ(conic.problem().code, Code::kTooFewMarks);
    EXPECT_FALSE(conic.problem().next.empty());
    ++refused;
  }
  EXPECT_EQ(refused, 5);
}

TEST(FitEllipse, PointsOnALineAreRefused) {
  int refused = 0;
  for (int degrees = 0; degrees < 180; degrees += 15) {
    const Eigen::Vector2d along(std::cos(degrees * kDegree), std::sin(degrees * kDegree));
    std::vector<Eigen::Vector2d> points;
    for (int k = 0; k < 9; ++k) points.push_back(Eigen::Vector2d(1200.0, 800.0) + 37.0 * k * along);
    const auto conic = fit_ellipse(points);
    ASSERT_FALSE(conic.ok()) << degrees;
    EXPECT_EQ(conic.problem().code, Code::kBadMarks);
    ++refused;
  }
  EXPECT_EQ(refused, 12);
}

TEST(FitEllipse, OnePlaceMarkedOverAndOverIsRefused) {
  const auto conic = fit_ellipse(std::vector<Eigen::Vector2d>(8, Eigen::Vector2d(10.0, 20.0)));
  ASSERT_FALSE(conic.ok());
  EXPECT_EQ(conic.problem().code, Code::kBadMarks);
}

TEST(EllipseOf, HyperbolaAndEmptySetAreRefused) {
  Eigen::Matrix3d hyperbola = Eigen::Vector3d(1.0, -1.0, -1.0).asDiagonal();
  const auto open = ellipse_of(hyperbola);
  ASSERT_FALSE(open.ok());
  EXPECT_EQ(open.problem().code, Code::kBadMarks);
  Eigen::Matrix3d nowhere = Eigen::Vector3d(1.0, 1.0, 1.0).asDiagonal();  // x^2 + y^2 = -1
  const auto empty = ellipse_of(nowhere);
  ASSERT_FALSE(empty.ok());
  EXPECT_EQ(empty.problem().code, Code::kBadMarks);
}

TEST(EllipseOf, SignAndScaleOfTheConicDoNotMatter) {
  const Eigen::Matrix3d conic = Eigen::Vector3d(0.25, 1.0, -1.0).asDiagonal();  // axes 2 and 1
  int cases = 0;
  for (const double factor : {1.0, -1.0, 300.0, -1e-4}) {
    const auto found = ellipse_of(factor * conic);
    ASSERT_TRUE(found.ok());
    EXPECT_NEAR(found->semi_major, 2.0, kSameEllipse);
    EXPECT_NEAR(found->semi_minor, 1.0, kSameEllipse);
    EXPECT_NEAR(turn_between(found->angle.value, 0.0), 0.0, kSameEllipse);
    ++cases;
  }
  EXPECT_EQ(cases, 4);
}

// Points of the picture of a circle of radius 1.
std::vector<Eigen::Vector2d> picture_of(const CirclePose& pose) {
  const Eigen::Vector3d u = pose.normal.unitOrthogonal();
  const Eigen::Vector3d v = pose.normal.cross(u);
  std::vector<Eigen::Vector2d> points;
  for (int i = 0; i < kPoints; ++i) {
    const double a = 2.0 * kPi * i / kPoints;
    const Eigen::Vector3d p = pose.centre + std::cos(a) * u + std::sin(a) * v;
    points.emplace_back(p.x() / p.z(), p.y() / p.z());
  }
  return points;
}

double distance(const CirclePose& a, const CirclePose& b) {
  return std::max((a.centre - b.centre).norm() / b.centre.norm(), (a.normal - b.normal).norm());
}

TEST(CirclePoses, HoldTheTrueCircleAndBothMakeTheSamePicture) {
  Chance chance(1991);
  int held = 0;
  int pictures = 0;
  for (int i = 0; i < kCircles; ++i) {
    CirclePose truth;
    const double z = chance.between(4.0, 20.0);
    truth.centre = {chance.between(-0.3, 0.3) * z, chance.between(-0.3, 0.3) * z, z};
    // Tilted from the sight line, but never edge on.
    const Eigen::Vector3d sight = -truth.centre.normalized();
    const Eigen::Vector3d across =
        Eigen::AngleAxisd(chance.between(0.0, 2.0 * kPi), sight) * sight.unitOrthogonal();
    const double tilt = chance.between(5.0, 80.0) * kDegree;
    truth.normal = std::cos(tilt) * sight + std::sin(tilt) * across;

    const auto conic = fit_ellipse(picture_of(truth));
    ASSERT_TRUE(conic.ok());
    const auto poses = circle_poses(*conic);
    ASSERT_TRUE(poses.ok());
    if (std::min(distance(poses->at(0), truth), distance(poses->at(1), truth)) < kSamePose) ++held;
    for (const CirclePose& pose : *poses) {
      EXPECT_NEAR(pose.normal.norm(), 1.0, kSamePose);
      EXPECT_GT(pose.centre.z(), 0.0);
      EXPECT_LT(pose.normal.dot(pose.centre), 0.0) << "towards the camera's side";
      const auto again = fit_ellipse(picture_of(pose));
      ASSERT_TRUE(again.ok());
      const double apart = std::min((*again - *conic).norm(), (*again + *conic).norm());
      EXPECT_LT(apart, kSameConic);
      ++pictures;
    }
  }
  EXPECT_EQ(held, kCircles);
  EXPECT_EQ(pictures, 2 * kCircles);
}

TEST(CirclePoses, CoincideSquareOn) {
  // A circle of radius 1 square on at distance 5 is a circle of radius 1/5 in the picture.
  const Eigen::Matrix3d conic = Eigen::Vector3d(1.0, 1.0, -0.04).asDiagonal();
  const auto poses = circle_poses(conic);
  ASSERT_TRUE(poses.ok());
  int checked = 0;
  for (const CirclePose& pose : *poses) {
    EXPECT_NEAR((pose.centre - Eigen::Vector3d(0.0, 0.0, 5.0)).norm(), 0.0, kSamePose);
    EXPECT_NEAR((pose.normal - Eigen::Vector3d(0.0, 0.0, -1.0)).norm(), 0.0, kSamePose);
    ++checked;
  }
  EXPECT_EQ(checked, 2);
}

TEST(CirclePoses, NoConeNoPose) {
  const Eigen::Matrix3d nowhere = Eigen::Matrix3d::Identity();
  const auto poses = circle_poses(nowhere);
  ASSERT_FALSE(poses.ok());
  EXPECT_EQ(poses.problem().code, Code::kBadMarks);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The camera is checked against OpenCV's own projection, cv::projectPoints, whose model it follows.
#include "geometry/camera.h"

#include <gtest/gtest.h>

#include <cmath>
#include <opencv2/calib3d.hpp>
#include <random>
#include <vector>

namespace potshadow {
namespace {

// Rounding of a few products near 4000 px, with slack of a thousand.
constexpr double kSamePixel = 1e-9;
// The inverse gains a factor of at least 2.5 a step for the lenses below; thirty steps leave 1e-12,
// and rounding less. In the normalised image; one pixel of a phone is 3e-4.
constexpr double kSameDirection = 1e-11;
constexpr int kLenses = 40;
constexpr int kPointsPerLens = 25;

struct Picture {
  std::mt19937_64 random{20240131};
  double between(double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  }
  // A phone's main camera at 4032 x 3024, the lens at most as bent as an uncorrected one.
  Lens<double> lens() {
    return {between(2500.0, 4500.0), between(1950.0, 2080.0), between(1450.0, 1570.0),
            between(-0.15, 0.15), between(-0.05, 0.05)};
  }
  // A point in front of the camera and inside its field, a little beyond the picture's corners.
  Eigen::Vector3d point() {
    const double z = between(300.0, 2000.0);
    return {between(-0.66, 0.66) * z, between(-0.5, 0.5) * z, z};
  }
};

TEST(Camera, ProjectsLikeOpenCv) {
  Picture picture;
  int compared = 0;
  for (int i = 0; i < kLenses; ++i) {
    const Lens<double> lens = picture.lens();
    std::vector<Eigen::Vector3d> points;
    std::vector<cv::Point3d> object;
    for (int k = 0; k < kPointsPerLens; ++k) {
      points.push_back(picture.point());
      object.emplace_back(points.back().x(), points.back().y(), points.back().z());
    }
    const cv::Matx33d matrix(lens.focal_px, 0, lens.cx_px, 0, lens.focal_px, lens.cy_px, 0, 0, 1);
    std::vector<cv::Point2d> expected;
    cv::projectPoints(object, cv::Vec3d(0, 0, 0), cv::Vec3d(0, 0, 0), matrix,
                      cv::Vec4d(lens.k1, lens.k2, 0, 0), expected);
    ASSERT_EQ(expected.size(), points.size());
    for (std::size_t k = 0; k < points.size(); ++k) {
      const Eigen::Vector2d pixel = project(lens, points[k]);
      EXPECT_NEAR(pixel.x(), expected[k].x, kSamePixel);
      EXPECT_NEAR(pixel.y(), expected[k].y, kSamePixel);
      ++compared;
    }
  }
  EXPECT_EQ(compared, kLenses * kPointsPerLens);
}

TEST(Camera, UndistortedGivesTheSightLineBack) {
  Picture picture;
  int compared = 0;
  for (int i = 0; i < kLenses; ++i) {
    const Lens<double> lens = picture.lens();
    for (int k = 0; k < kPointsPerLens; ++k) {
      const Eigen::Vector3d point = picture.point();
      const Eigen::Vector2d pixel = project(lens, point);
      const Eigen::Vector2d flat = undistorted(lens, {pixel.x(), pixel.y()});
      EXPECT_NEAR(flat.x(), point.x() / point.z(), kSameDirection);
      EXPECT_NEAR(flat.y(), point.y() / point.z(), kSameDirection);
      ++compared;
    }
  }
  EXPECT_EQ(compared, kLenses * kPointsPerLens);
}

TEST(Camera, AxisPointFallsOnThePrincipalPointWhateverTheLens) {
  const Lens<double> lens{3000.0, 2016.5, 1511.5, 0.12, -0.04};
  const Eigen::Vector2d pixel = project(lens, Eigen::Vector3d(0.0, 0.0, 800.0));
  EXPECT_EQ(pixel.x(), 2016.5);
  EXPECT_EQ(pixel.y(), 1511.5);
  EXPECT_EQ(undistorted(lens, {2016.5, 1511.5}).norm(), 0.0);
}

TEST(Camera, FramesPointRightAndDown) {
  const Lens<double> lens{3000.0, 2000.0, 1500.0, 0.0, 0.0};
  // By similar triangles: 80 mm at 800 mm is a tenth of the focal length.
  const Eigen::Vector2d pixel = project(lens, Eigen::Vector3d(80.0, -40.0, 800.0));
  EXPECT_NEAR(pixel.x(), 2300.0, kSamePixel);
  EXPECT_NEAR(pixel.y(), 1350.0, kSamePixel);
}

TEST(Camera, PositiveK1PushesOutwards) {
  // By hand: q = 0.3^2 + 0.4^2 = 0.25, factor 1 + 0.1 x 0.25 + 0.04 x 0.0625 = 1.0275.
  const Lens<double> lens{1000.0, 0.0, 0.0, 0.1, 0.04};
  const Eigen::Vector2d pixel = project(lens, Eigen::Vector3d(3.0, 4.0, 10.0));
  EXPECT_NEAR(pixel.x(), 308.25, kSamePixel);
  EXPECT_NEAR(pixel.y(), 411.0, kSamePixel);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "outline/edge_fit.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/core.hpp>

#include "outline/drawn_vessel.h"

namespace potshadow {
namespace {

using testing::drawn;
using testing::DrawnPicture;
using testing::Ink;

constexpr double kMiddle = 60.0;

// A disc of that radius whose edge passes near the middle at that angle.
DrawnPicture disc(double radius, double angle_rad, double offset) {
  DrawnPicture wanted;
  wanted.width = 121;
  wanted.height = 121;
  const double cx = kMiddle + (offset - radius) * std::cos(angle_rad);
  const double cy = kMiddle + (offset - radius) * std::sin(angle_rad);
  wanted.distance = [=](double x, double y) { return std::hypot(x - cx, y - cy) - radius; };
  wanted.vessel = [](double, double) { return testing::kClay; };
  wanted.surroundings = [](double, double) { return testing::kWall; };
  return wanted;
}

EdgeWindow window_at(double angle_rad, double radius) {
  EdgeWindow window;
  window.at = {kMiddle, kMiddle};
  window.outward = {std::cos(angle_rad), std::sin(angle_rad)};
  window.bend_per_px = -1.0 / radius;
  return window;
}

// The error over its own standard uncertainty is 1 on the average where the uncertainty is right.
TEST(EdgeFit, ErrorsAreAsLargeAsStated) {
  // The mean square of 240 normal numbers is 1 +- 0.09; four deviations, and what quantisation and
  // the blur's own uncertainty add.
  constexpr double kLow = 0.6;
  constexpr double kHigh = 1.5;
  double squares = 0.0;
  double errors = 0.0;
  int cases = 0;
  cv::RNG random(7);
  for (const double radius : {40.0, 150.0, 2000.0}) {
    for (const double blur : {0.7, 1.0, 1.6}) {
      for (int turn = 0; turn < 28; ++turn) {
        const double angle = random.uniform(0.0, 2.0 * std::numbers::pi);
        const double offset = random.uniform(-1.5, 1.5);
        DrawnPicture wanted = disc(radius, angle, offset);
        wanted.blur_px = blur;
        wanted.noise = 3.0;
        wanted.seed = static_cast<std::uint64_t>(cases + 1);
        const auto fit = fit_edge(drawn(wanted).bgr, window_at(angle, radius), 1.0, 0.5);
        ASSERT_TRUE(fit) << radius << ", " << blur;
        squares += std::pow((fit->off_px - offset) / fit->sd_px, 2);
        errors += std::abs(fit->off_px - offset);
        ++cases;
      }
    }
  }
  EXPECT_EQ(cases, 3 * 3 * 28);
  EXPECT_GT(squares / cases, kLow);
  EXPECT_LT(squares / cases, kHigh);
  EXPECT_LT(errors / cases, 0.1);  // pixels: what a mark is worth
}

// Without noise what is left is the model's own bias: quantisation, the blur's rounding of the
// disc, and the tone curve taken as a parabola.
TEST(EdgeFit, FindsCleanEdgesOfAllDirections) {
  constexpr double kBiasOfBlur = 0.05;
  int cases = 0;
  for (int turn = 0; turn < 16; ++turn) {
    for (const double offset : {-1.3, -0.5, 0.0, 0.6, 1.4}) {
      for (const double blur : {0.6, 1.0, 1.8}) {
        const double angle = turn * std::numbers::pi / 8.0 + 0.02;
        DrawnPicture wanted = disc(200.0, angle, offset);
        wanted.blur_px = blur;
        wanted.noise = 0.0;
        const auto fit = fit_edge(drawn(wanted).bgr, window_at(angle, 200.0), 1.0, 0.5);
        ASSERT_TRUE(fit);
        EXPECT_NEAR(fit->off_px, offset, kBiasOfBlur * std::max(1.0, blur))
            << turn << ", " << offset << ", " << blur;
        // The pixel's own width adds 1/12.
        EXPECT_NEAR(fit->blur_px, std::hypot(blur, std::sqrt(1.0 / 12.0)), 0.12);
        ++cases;
      }
    }
  }
  EXPECT_EQ(cases, 16 * 5 * 3);
}

// What a fit without the tone curve would be off by: the reason for it.
TEST(EdgeFit, ToneCurveMattersWhereContrastIsStrong) {
  DrawnPicture wanted = disc(500.0, 0.0, 0.0);
  wanted.vessel = [](double, double) { return Ink{0.02, 0.02, 0.03}; };
  wanted.surroundings = [](double, double) { return Ink{0.7, 0.7, 0.7}; };
  wanted.noise = 0.0;
  const Picture picture = drawn(wanted);
  const auto with = fit_edge(picture.bgr, window_at(0.0, 500.0), 1.0, 0.5);
  const auto without = fit_edge(picture.bgr, window_at(0.0, 500.0), 0.0, 0.5);
  ASSERT_TRUE(with);
  ASSERT_TRUE(without);
  EXPECT_GT(std::abs(without->off_px), 0.3);
  EXPECT_LT(std::abs(with->off_px), 0.1);
}

// A wall that gets darker towards the edge does not move it.
TEST(EdgeFit, ShadeDoesNotMoveTheEdge) {
  constexpr double kShiftPx = 0.1;
  DrawnPicture wanted = disc(300.0, 0.0, 0.3);
  wanted.vessel = [](double x, double) {
    const double light = 0.32 + 0.008 * (kMiddle - x);
    return Ink{0.3 * light, 0.5 * light, light};
  };
  wanted.noise = 0.0;
  const auto fit = fit_edge(drawn(wanted).bgr, window_at(0.0, 300.0), 1.0, 0.5);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->off_px, 0.3, kShiftPx);
}

TEST(EdgeFit, FindsNothingWhereNothingChanges) {
  const cv::Mat flat(60, 60, CV_8UC3, cv::Scalar::all(120));
  EdgeWindow window;
  window.outward = {1.0, 0.0};
  int cases = 0;
  for (const cv::Point2d at : {cv::Point2d(30, 30), cv::Point2d(-50, 30), cv::Point2d(59, 0)}) {
    window.at = at;
    EXPECT_FALSE(fit_edge(flat, window, 1.0, 0.5));
    ++cases;
  }
  EXPECT_EQ(cases, 3);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "outline/snap.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <utility>

namespace potshadow {
namespace {

using std::numbers::pi;

constexpr int kSide = 81;
constexpr PhotoPoint kMiddle{40.0, 40.0};

Picture picture_of(cv::Mat bgr) {
  Picture picture;
  picture.facts.width_px = bgr.cols;
  picture.facts.height_px = bgr.rows;
  picture.bgr = std::move(bgr);
  return picture;
}

// A straight edge: it runs along `direction_rad` through the point `offset` away from the middle,
// square to it.
struct Edge {
  double direction_rad = 0.0;
  double offset_px = 0.0;
  double dark = 70.0;
  double light = 150.0;
  double blur_px = 0.0;  // besides the pixels' own size
  double noise = 0.0;    // standard deviation, grey levels

  // Signed distance of a place from the edge.
  double distance(PhotoPoint p) const {
    return -(p.x_px - kMiddle.x_px) * std::sin(direction_rad) +
           (p.y_px - kMiddle.y_px) * std::cos(direction_rad) - offset_px;
  }
};

// The edge as a camera's pixels see it: each is the mean over its square, of 16 x 16 points.
Picture drawn(const Edge& edge, std::uint64_t seed = 0) {
  constexpr int kFine = 16;
  cv::Mat grey(kSide, kSide, CV_64F);
  for (int y = 0; y < kSide; ++y) {
    for (int x = 0; x < kSide; ++x) {
      // A pixel's corners are 0.71 px from its middle; further away it is wholly dark or light.
      const double away = edge.distance({static_cast<double>(x), static_cast<double>(y)});
      if (std::abs(away) > 0.75) {
        grey.at<double>(y, x) = away > 0.0 ? edge.light : edge.dark;
        continue;
      }
      int light = 0;
      for (int j = 0; j < kFine; ++j) {
        for (int i = 0; i < kFine; ++i) {
          const PhotoPoint p{x - 0.5 + (i + 0.5) / kFine, y - 0.5 + (j + 0.5) / kFine};
          if (edge.distance(p) > 0.0) ++light;
        }
      }
      grey.at<double>(y, x) = edge.dark + (edge.light - edge.dark) * light / (kFine * kFine);
    }
  }
  if (edge.blur_px > 0.0) {
    cv::GaussianBlur(grey, grey, cv::Size(), edge.blur_px, edge.blur_px, cv::BORDER_REPLICATE);
  }
  cv::RNG random(seed);
  for (int y = 0; y < kSide; ++y) {
    for (int x = 0; x < kSide; ++x) grey.at<double>(y, x) += random.gaussian(edge.noise);
  }
  cv::Mat bytes;
  grey.convertTo(bytes, CV_8U);
  cv::Mat bgr;
  cv::cvtColor(bytes, bgr, cv::COLOR_GRAY2BGR);
  return picture_of(bgr);
}

Picture flat(int width, int height, double noise, std::uint64_t seed, double blur = 0.0) {
  cv::Mat grey(height, width, CV_32F);
  cv::RNG random(seed);
  random.fill(grey, cv::RNG::NORMAL, 0.0, noise);
  if (blur > 0.0) cv::GaussianBlur(grey, grey, cv::Size(), blur);
  grey.convertTo(grey, CV_8U, 1.0, 120.0);
  cv::Mat bgr;
  cv::cvtColor(grey, bgr, cv::COLOR_GRAY2BGR);
  return picture_of(bgr);
}

// The angle between two directions of lines.
double between(double a, double b) {
  const double off = std::abs(std::remainder(a - b, pi));
  return off;
}

// What the marks need: half of the 0.3 px with which the best of them are believed.
constexpr double kWithinPx = 0.15;

TEST(SnapToEdge, LandsOnCleanEdgesOfAllDirections) {
  // Without noise only whole grey levels and the sixteenths of the drawing are left.
  constexpr double kCleanPx = 0.03;
  // A sharp edge is stairs of pixels, of which the smoothing leaves a trace.
  constexpr double kCleanRad = 0.03;
  int cases = 0;
  for (int turn = 0; turn < 24; ++turn) {
    for (const double offset : {-3.0, -1.25, 0.0, 0.4, 0.5, 2.7}) {
      for (const double blur : {0.0, 0.8, 2.0}) {
        Edge edge;
        edge.direction_rad = turn * pi / 12.0 + 0.01;
        edge.offset_px = offset;
        edge.blur_px = blur;
        const auto found = snap_to_edge(drawn(edge), kMiddle, Px{8.0});
        ASSERT_TRUE(found) << turn << " at " << offset << " blurred " << blur;
        EXPECT_NEAR(edge.distance(found->at), 0.0, kCleanPx) << turn << " at " << offset;
        EXPECT_LT(between(found->direction_rad, edge.direction_rad), kCleanRad);
        EXPECT_GE(found->direction_rad, 0.0);
        EXPECT_LT(found->direction_rad, pi);
        ++cases;
      }
    }
  }
  EXPECT_EQ(cases, 24 * 6 * 3);
}

TEST(SnapToEdge, LandsOnNoisyBlurredEdges) {
  int cases = 0;
  double squares = 0.0;
  for (int turn = 0; turn < 18; ++turn) {
    for (const double offset : {-4.3, -0.5, 0.2, 3.1}) {
      for (const double blur : {0.7, 1.5}) {
        Edge edge;
        edge.direction_rad = turn * pi / 18.0;
        edge.offset_px = offset;
        edge.blur_px = blur;
        edge.noise = 2.0;  // of a dim case; common practice, no source
        const auto found =
            snap_to_edge(drawn(edge, static_cast<std::uint64_t>(cases + 1)), kMiddle, Px{10.0});
        ASSERT_TRUE(found) << turn << " at " << offset << " blurred " << blur;
        EXPECT_NEAR(edge.distance(found->at), 0.0, kWithinPx)
            << turn << " at " << offset << " blurred " << blur;
        squares += std::pow(edge.distance(found->at), 2);
        ++cases;
      }
    }
  }
  EXPECT_EQ(cases, 18 * 4 * 2);
  // So that kWithinPx is four deviations, exceeded once in 16,000 by chance.
  EXPECT_LT(std::sqrt(squares / cases), kWithinPx / 4.0);
}

// Along an edge that gets stronger and stronger the mark stays where it was put.
TEST(SnapToEdge, MovesAcrossNotAlong) {
  constexpr double kAlongPx = 1.5;  // half a pixel, and what noise makes of it
  int cases = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    cv::Mat grey(kSide, kSide, CV_32F);
    cv::RNG random(seed);
    for (int y = 0; y < kSide; ++y) {
      for (int x = 0; x < kSide; ++x) {
        const double contrast = y > 43 ? 60.0 + x : 0.0;
        grey.at<float>(y, x) = static_cast<float>(60.0 + contrast + random.gaussian(2.0));
      }
    }
    cv::Mat bgr;
    grey.convertTo(grey, CV_8U);
    cv::cvtColor(grey, bgr, cv::COLOR_GRAY2BGR);
    const auto found = snap_to_edge(picture_of(bgr), kMiddle, Px{15.0});
    ASSERT_TRUE(found) << seed;
    EXPECT_NEAR(found->at.x_px, kMiddle.x_px, kAlongPx) << seed;
    EXPECT_NEAR(found->at.y_px, 43.5, kWithinPx) << seed;
    ++cases;
  }
  EXPECT_EQ(cases, 20);
}

// A Gaussian edge of contrast C, blurred to a deviation s, is C / (s sqrt(2 pi)) steep in its
// middle; deviations add in squares: the pixel's own 1/12, the blur, and the smoothing's 1.
TEST(SnapToEdge, StrengthIsTheSlopeInTheMiddle) {
  constexpr double kOfSampling = 0.03;  // a mask of one pixel's deviation is coarsely sampled
  int cases = 0;
  for (const double contrast : {30.0, 80.0, 160.0}) {
    for (const double blur : {0.0, 1.0, 2.0}) {
      Edge edge;
      edge.direction_rad = 0.4;
      edge.light = edge.dark + contrast;
      edge.blur_px = blur;
      const double spread = std::sqrt(1.0 + 1.0 / 12.0 + blur * blur);
      const double wanted = contrast / (spread * std::sqrt(2.0 * pi));
      const auto found = snap_to_edge(drawn(edge), kMiddle, Px{6.0});
      ASSERT_TRUE(found);
      EXPECT_NEAR(found->strength, wanted, kOfSampling * wanted);
      const auto here = edge_at(drawn(edge), found->at);
      ASSERT_TRUE(here);
      EXPECT_NEAR(here->strength, found->strength, 1e-6 * wanted);  // rounding of floats
      ++cases;
    }
  }
  EXPECT_EQ(cases, 9);
}

TEST(SnapToEdge, FindsNothingInNoise) {
  int cases = 0;
  for (const double noise : {0.0, 1.0, 3.0, 12.0}) {
    for (const double blur : {0.0, 1.0}) {  // grain of single pixels, and as cameras smooth it
      for (std::uint64_t seed = 1; seed <= 25; ++seed) {
        const Picture wall = flat(kSide, kSide, noise, seed, blur);
        EXPECT_FALSE(snap_to_edge(wall, kMiddle, Px{20.0})) << noise << ", " << seed;
        EXPECT_FALSE(snap_to_edge(wall, kMiddle, Px{4.0})) << noise << ", " << seed;
        EXPECT_FALSE(snap_to_edge(wall, {2.0, 3.0}, Px{20.0})) << noise << ", " << seed;
        cases += 3;
      }
    }
  }
  EXPECT_EQ(cases, 4 * 2 * 25 * 3);
}

// A wall that is lit from one side has steps of one grey level, none of which is an edge.
TEST(SnapToEdge, FindsNothingInASmoothShade) {
  int cases = 0;
  for (const double slope : {0.05, 0.2, 0.7, 1.5}) {
    cv::Mat bgr(kSide, kSide, CV_8UC3);
    for (int x = 0; x < kSide; ++x) {
      bgr.col(x).setTo(cv::Scalar::all(std::floor(60.0 + slope * x)));
    }
    EXPECT_FALSE(snap_to_edge(picture_of(bgr), kMiddle, Px{20.0})) << slope;
    ++cases;
  }
  EXPECT_EQ(cases, 4);
}

TEST(SnapToEdge, KeepsWithinReach) {
  Edge edge;
  edge.offset_px = 6.3;
  const Picture picture = drawn(edge);
  int cases = 0;
  for (const double reach : {1.0, 4.0, 6.0, 6.2}) {
    EXPECT_FALSE(snap_to_edge(picture, kMiddle, Px{reach})) << reach;
    ++cases;
  }
  for (const double reach : {6.4, 7.0, 20.0, 1e9}) {
    const auto found = snap_to_edge(picture, kMiddle, Px{reach});
    ASSERT_TRUE(found) << reach;
    EXPECT_LE(std::hypot(found->at.x_px - 40.0, found->at.y_px - 40.0), reach);
    EXPECT_NEAR(found->at.y_px, 46.3, kWithinPx);
    ++cases;
  }
  EXPECT_EQ(cases, 8);
}

// Two lines of the same strength, 5 and 7 pixels away; then the far one three times as strong.
TEST(SnapToEdge, StrengthWinsAndNearnessDecidesBetweenLikes) {
  const auto two = [](int near_contrast, int far_contrast) {
    cv::Mat bgr(kSide, kSide, CV_8UC3, cv::Scalar::all(90));
    bgr.colRange(45, kSide).setTo(cv::Scalar::all(90 + near_contrast));
    bgr.colRange(0, 33).setTo(cv::Scalar::all(90 + far_contrast));
    return picture_of(bgr);
  };
  const auto alike = snap_to_edge(two(40, 40), kMiddle, Px{10.0});
  ASSERT_TRUE(alike);
  EXPECT_NEAR(alike->at.x_px, 44.5, kWithinPx);
  const auto stronger = snap_to_edge(two(40, 120), kMiddle, Px{10.0});
  ASSERT_TRUE(stronger);
  EXPECT_NEAR(stronger->at.x_px, 32.5, kWithinPx);
  EXPECT_NEAR(between(stronger->direction_rad, pi / 2.0), 0.0, 0.01);
}

TEST(SnapToEdge, WorksAtThePicturesBorder) {
  int cases = 0;
  for (const int light_from : {2, 3, kSide - 3, kSide - 2}) {
    for (const bool lying : {false, true}) {
      cv::Mat bgr(kSide, kSide, CV_8UC3, cv::Scalar::all(80));
      bgr.colRange(light_from, kSide).setTo(cv::Scalar::all(160));
      if (lying) bgr = bgr.t();
      const double at = light_from < kSide / 2 ? 0.0 : kSide - 1.0;
      const PhotoPoint near = lying ? PhotoPoint{30.0, at} : PhotoPoint{at, 30.0};
      const auto found = snap_to_edge(picture_of(bgr), near, Px{8.0});
      ASSERT_TRUE(found) << light_from;
      EXPECT_NEAR(lying ? found->at.y_px : found->at.x_px, light_from - 0.5, kWithinPx);
      ++cases;
    }
  }
  EXPECT_EQ(cases, 8);
}

// The frame itself is no edge.
TEST(SnapToEdge, FindsNothingOutsideOrInTheSmallestPictures) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  Edge edge;
  edge.noise = 1.0;
  const Picture picture = drawn(edge, 5);
  int cases = 0;
  for (const PhotoPoint near :
       {PhotoPoint{-0.6, 40.0}, PhotoPoint{40.0, -30.0}, PhotoPoint{kSide - 0.4, 40.0},
        PhotoPoint{40.0, 1e12}, PhotoPoint{nan, 40.0}, PhotoPoint{40.0, -infinite}}) {
    EXPECT_FALSE(snap_to_edge(picture, near, Px{60.0}));
    EXPECT_FALSE(edge_at(picture, near));
    ++cases;
  }
  for (const double reach : {0.0, -3.0, nan}) {
    EXPECT_FALSE(snap_to_edge(picture, kMiddle, Px{reach}));
    ++cases;
  }
  for (const cv::Size size : {cv::Size(1, 1), cv::Size(1, 9), cv::Size(9, 1), cv::Size(2, 2)}) {
    const Picture small = picture_of(cv::Mat(size, CV_8UC3, cv::Scalar::all(200)));
    EXPECT_FALSE(snap_to_edge(small, {0.0, 0.0}, Px{20.0}));
    EXPECT_FALSE(edge_at(small, {0.0, 0.0}));
    ++cases;
  }
  EXPECT_FALSE(snap_to_edge(Picture{}, {0.0, 0.0}, Px{20.0}));
  EXPECT_FALSE(edge_at(Picture{}, {0.0, 0.0}));
  EXPECT_EQ(cases, 13);
}

TEST(EdgeAtPoint, TellsTheDirectionNearAnEdgeAndNothingAwayFromIt) {
  constexpr double kRad = 0.03;  // of noise and whole grey levels on a steep edge
  int cases = 0;
  for (int turn = 0; turn < 12; ++turn) {
    Edge edge;
    edge.direction_rad = turn * pi / 12.0;
    edge.blur_px = 1.0;
    edge.noise = 0.5;
    const Picture picture = drawn(edge, static_cast<std::uint64_t>(turn) + 1);
    const auto here = edge_at(picture, kMiddle);
    ASSERT_TRUE(here) << turn;
    EXPECT_EQ(here->at, kMiddle);
    EXPECT_LT(between(here->direction_rad, edge.direction_rad), kRad) << turn;
    const PhotoPoint away{40.0 - 12.0 * std::sin(edge.direction_rad),
                          40.0 + 12.0 * std::cos(edge.direction_rad)};
    EXPECT_FALSE(edge_at(picture, away)) << turn;
    ++cases;
  }
  EXPECT_EQ(cases, 12);
}

}  // namespace
}  // namespace potshadow

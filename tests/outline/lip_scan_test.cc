// SPDX-License-Identifier: MIT
#include "outline/lip_scan.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace potshadow {
namespace {

const cv::Scalar kBackground(120, 120, 120);
const cv::Scalar kHollow(90, 95, 100);
const cv::Scalar kLip(150, 150, 155);
const cv::Scalar kWall(70, 72, 75);
const cv::Scalar kPaint(30, 30, 40);

// A rim of half width 300 and half height 50 about (500, 200), and the wall below it.
constexpr double kHalfWidthPx = 300.0;
constexpr double kHalfHeightPx = 50.0;
const cv::Point kCentre(500, 200);

void fill(cv::Mat& picture, cv::Point centre, double a, double b, const cv::Scalar& colour) {
  cv::ellipse(picture, centre, cv::Size(static_cast<int>(a), static_cast<int>(b)), 0.0, 0.0, 360.0,
              colour, cv::FILLED, cv::LINE_AA);
}

// The pot from its wall to its hollow; a band is painted round it `band_px` below the rim.
cv::Mat pot(int band_px) {
  cv::Mat picture(700, 1000, CV_8UC3, kBackground);
  constexpr int kWide = static_cast<int>(kHalfWidthPx);
  cv::rectangle(picture, {kCentre.x - kWide, kCentre.y}, {kCentre.x + kWide, 699}, kWall,
                cv::FILLED);
  if (band_px > 0) {
    constexpr int kBandPx = 12;
    fill(picture, kCentre + cv::Point(0, band_px + kBandPx), kHalfWidthPx, kHalfHeightPx, kPaint);
    fill(picture, kCentre + cv::Point(0, band_px), kHalfWidthPx, kHalfHeightPx, kWall);
  }
  fill(picture, kCentre, kHalfWidthPx, kHalfHeightPx, kLip);
  fill(picture, kCentre, 0.94 * kHalfWidthPx, 0.94 * kHalfHeightPx, kHollow);
  return picture;
}

Axis upright() { return {cv::Point2d(kCentre.x, 0.0)}; }

// The middle of the back, where nothing tells how wide the ellipse is.
std::vector<cv::Point2d> short_back() {
  constexpr double kHalfAngle = 0.35;
  std::vector<cv::Point2d> back;
  for (double angle = -kHalfAngle; angle <= kHalfAngle; angle += 0.02) {
    back.emplace_back(kHalfWidthPx * std::sin(angle), kCentre.y - kHalfHeightPx * std::cos(angle));
  }
  return back;
}

constexpr HalfWidths kWidths{kHalfWidthPx, kHalfWidthPx};
// An edge shows some pixels beside itself, too, and of all that do the outermost is taken: the edge
// itself is looked for about it.
constexpr double kFrontPx = 8.0;

TEST(ScannedLip, FindsTheFrontOfAShortBack) {
  const auto arc = scanned_lip(pot(0), upright(), short_back(), kWidths);
  ASSERT_TRUE(arc.has_value());
  EXPECT_NEAR(arc->v0 + arc->b, kCentre.y + kHalfHeightPx, kFrontPx);
  EXPECT_NEAR(arc->v0 - arc->b, kCentre.y - kHalfHeightPx, 1.0);
  EXPECT_NEAR(arc->u0, 0.0, 1e-9);
}

TEST(ScannedLip, PassesOverAPaintedBandBelow) {
  for (const int band_px : {40, 60, 90}) {
    const auto arc = scanned_lip(pot(band_px), upright(), short_back(), kWidths);
    ASSERT_TRUE(arc.has_value()) << band_px;
    EXPECT_NEAR(arc->v0 + arc->b, kCentre.y + kHalfHeightPx, kFrontPx) << band_px;
  }
}

TEST(ScannedLip, FindsNoneWhereNoFrontIsSeen) {
  cv::Mat picture(700, 1000, CV_8UC3, kBackground);
  EXPECT_FALSE(scanned_lip(picture, upright(), short_back(), kWidths).has_value());
  // Half of a front is not one.
  picture = pot(0);
  picture(cv::Rect(kCentre.x, 0, 500, 700)).setTo(kBackground);
  EXPECT_FALSE(scanned_lip(picture, upright(), short_back(), kWidths).has_value());
}

TEST(ScannedLip, FindsNoneOutsideThePicture) {
  for (const double off_px : {-2000.0, 2000.0}) {
    std::vector<cv::Point2d> back = short_back();
    for (cv::Point2d& place : back) place.y += off_px;
    EXPECT_FALSE(scanned_lip(pot(0), upright(), back, kWidths).has_value());
  }
}

}  // namespace
}  // namespace potshadow

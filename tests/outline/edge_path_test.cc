// SPDX-License-Identifier: MIT
#include "outline/edge_path.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstddef>
#include <opencv2/core.hpp>
#include <random>
#include <vector>

namespace potshadow {
namespace {

constexpr int kWidth = 240;
constexpr int kHeight = 120;

// Level bands of grey, from the top: a new one begins at each row of `from`.
cv::Mat banded(const std::vector<int>& from, const std::vector<double>& grey, unsigned seed) {
  std::mt19937 random(seed);
  std::normal_distribution<double> noise(0.0, 2.0);
  cv::Mat bgr(kHeight, kWidth, CV_8UC3);
  for (int y = 0; y < kHeight; ++y) {
    std::size_t band = 0;
    while (band + 1 < from.size() && y >= from[band + 1]) ++band;
    for (int x = 0; x < kWidth; ++x) {
      for (int c = 0; c < 3; ++c) {
        bgr.at<cv::Vec3b>(y, x)[c] = cv::saturate_cast<unsigned char>(grey[band] + noise(random));
      }
    }
  }
  return bgr;
}

// A line along row 60 whose outward side is below.
SearchLine level_line(bool outermost) {
  SearchLine line;
  for (int x = 20; x <= kWidth - 20; x += 3) {
    line.at.emplace_back(x, 60.0);
    line.outward.emplace_back(0.0, 1.0);
    line.reach_px.push_back(15.0);
    line.expected_px.push_back(6.0);
  }
  line.parts = false;
  line.outermost = outermost;
  return line;
}

double middle_off(const cv::Mat& bgr, bool outermost) {
  const auto path = likely_path(bgr, VesselMask(), level_line(outermost), 2.0);
  return path.empty() ? NAN : path[path.size() / 2].off_px;
}

// A lip from above: its inner edge, its light top, its outer edge, the wall.
TEST(EdgePath, TakesTheOutermostOfEdgesThatAreAboutAsClear) {
  int cases = 0;
  for (const unsigned seed : {1U, 2U, 3U}) {
    const cv::Mat lip = banded({0, 54, 66}, {90.0, 140.0, 100.0}, seed);
    EXPECT_NEAR(middle_off(lip, true), 5.5, 1.5) << seed;
    // The other edge is clearer, and it is taken where nothing else is known.
    EXPECT_NEAR(middle_off(lip, false), -6.5, 1.5) << seed;
    ++cases;
  }
  EXPECT_EQ(cases, 3);
}

// What is far less clear farther out is shade or texture.
TEST(EdgePath, TakesNoFaintEdgeBeforeAClearOne) {
  int cases = 0;
  for (const unsigned seed : {1U, 2U, 3U}) {
    const cv::Mat shade = banded({0, 54, 66}, {60.0, 140.0, 136.0}, seed);
    EXPECT_NEAR(middle_off(shade, true), -6.5, 1.5) << seed;
    ++cases;
  }
  EXPECT_EQ(cases, 3);
}

}  // namespace
}  // namespace potshadow

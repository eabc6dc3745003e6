// SPDX-License-Identifier: MIT
#include "sheets/pattern_picture.h"

#include <gtest/gtest.h>

#include <opencv2/imgcodecs.hpp>
#include <vector>

namespace potshadow {
namespace {

// A heavy square of 92 mm: with its margin 100 mm and half a line's width on each side.
Pattern square() {
  Pattern out;
  out.name = "Square";
  out.paths.push_back({{{0, 0}, {92, 0}, {92, 92}, {0, 92}}, PatternLine::kBold, true});
  return out;
}

TEST(PatternPicture, ShowsTheWholePatternWithAMargin) {
  constexpr int kLong = 500;
  const Result<PagePixels> found = pattern_picture(square(), kLong);
  ASSERT_TRUE(found.ok()) << found.problem().what;
  EXPECT_EQ(found->width_px, kLong);
  EXPECT_EQ(found->height_px, kLong);
  const auto blue_at = [&](int x, int y) {
    return found->bytes[4U * (static_cast<std::size_t>(y) * 500U + static_cast<std::size_t>(x))];
  };
  // 5 px to the millimetre: the left line is 4 mm in, the inside is white.
  EXPECT_EQ(blue_at(5, 250), 255);
  EXPECT_LT(blue_at(20, 250), 60);
  EXPECT_EQ(blue_at(250, 250), 255);
}

TEST(PatternPicture, ThePngHoldsTheSamePixels) {
  const Result<std::string> png = pattern_png(square());
  ASSERT_TRUE(png.ok()) << png.problem().what;
  const std::vector<unsigned char> bytes(png->begin(), png->end());
  const cv::Mat read = cv::imdecode(bytes, cv::IMREAD_COLOR);
  ASSERT_EQ(read.cols, 2400);
  ASSERT_EQ(read.rows, 2400);
  EXPECT_EQ(read.at<cv::Vec3b>(1200, 20), cv::Vec3b(255, 255, 255));
  EXPECT_LT(read.at<cv::Vec3b>(1200, 96)[1], 60);
}

}  // namespace
}  // namespace potshadow

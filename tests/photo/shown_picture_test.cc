// SPDX-License-Identifier: MIT
#include "photo/shown_picture.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <utility>
#include <vector>

#include "photo/picture_maker.h"

namespace potshadow {
namespace {

Picture picture_of(cv::Mat bgr) {
  Picture picture;
  picture.facts.width_px = bgr.cols;
  picture.facts.height_px = bgr.rows;
  picture.bgr = std::move(bgr);
  return picture;
}

// Every pixel is random, from a seed of its own.
cv::Mat noise(int width, int height, std::uint64_t seed) {
  cv::Mat bgr(height, width, CV_8UC3);
  cv::RNG random(seed);
  random.fill(bgr, cv::RNG::UNIFORM, 0, 256);
  return bgr;
}

// Shades from dark to light, with a coarse texture.
cv::Mat shades(int width, int height) {
  cv::Mat bgr(height, width, CV_8UC3);
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      const int base = 40 + 120 * x / width + (((x / 9 + y / 7) % 3) * 12);
      bgr.at<cv::Vec3b>(y, x) =
          cv::Vec3b(cv::saturate_cast<uchar>(base), cv::saturate_cast<uchar>(base + 8),
                    cv::saturate_cast<uchar>(base + 20));
    }
  }
  return bgr;
}

ShownPicture shown(const cv::Mat& bgr, const ViewAdjust& adjust = {}) {
  const auto made = ShownPicture::of(picture_of(bgr), adjust);
  EXPECT_TRUE(made.ok());
  return *made;
}

// A level as a matrix of its own.
cv::Mat level_of(const ShownPicture& picture, int level) {
  const ShownPicture::Pixels p = picture.whole(level);
  return cv::Mat(p.height_px, p.width_px, CV_8UC3, const_cast<unsigned char*>(p.first),
                 p.bytes_per_row)
      .clone();
}

double mean_of(const cv::Mat& bgr) {
  const cv::Scalar mean = cv::mean(bgr);
  return (mean[0] + mean[1] + mean[2]) / 3.0;
}

TEST(TurnedPicture, CornersGoClockwise) {
  using testing::fields_of;
  const Picture upright = picture_of(testing::four_fields());
  const std::vector<std::pair<int, std::string>> wanted = {
      {0, "RGBy"}, {1, "BRyG"}, {2, "yBGR"}, {3, "GyRB"}, {4, "RGBy"}, {-1, "GyRB"}, {-6, "yBGR"}};
  int cases = 0;
  for (const auto& [turns, fields] : wanted) {
    const Picture turned = turned_picture(upright, turns);
    EXPECT_EQ(fields_of(turned.bgr), fields) << turns;
    const bool lying = turns % 2 != 0;
    EXPECT_EQ(turned.bgr.cols, lying ? testing::kHigh : testing::kWide);
    EXPECT_EQ(turned.bgr.rows, lying ? testing::kWide : testing::kHigh);
    EXPECT_EQ(turned.facts, upright.facts);
    ++cases;
  }
  EXPECT_EQ(cases, 7);
}

// A quarter clockwise takes the pixel (x, y) to (height - 1 - y, x).
TEST(TurnedPicture, EveryPixelLandsWhereATurnTakesIt) {
  const cv::Mat bgr = noise(13, 7, 1);
  const Picture turned = turned_picture(picture_of(bgr), 1);
  int pixels = 0;
  for (int y = 0; y < bgr.rows; ++y) {
    for (int x = 0; x < bgr.cols; ++x) {
      EXPECT_EQ(turned.bgr.at<cv::Vec3b>(x, bgr.rows - 1 - y), bgr.at<cv::Vec3b>(y, x));
      ++pixels;
    }
  }
  EXPECT_EQ(pixels, 13 * 7);
}

TEST(TurnedPicture, FourTurnsAreNone) {
  const Picture start = picture_of(noise(31, 18, 2));
  Picture turned = start;
  for (int i = 0; i < 4; ++i) turned = turned_picture(turned, 1);
  EXPECT_EQ(cv::norm(turned.bgr, start.bgr, cv::NORM_INF), 0.0);
  EXPECT_EQ(turned_picture(start, 8).bgr.data, start.bgr.data);
  EXPECT_EQ(turned_picture(start, std::numeric_limits<int>::min()).bgr.data, start.bgr.data);
}

TEST(ShownPicture, WithoutAdjustmentsTheFirstLevelIsThePictureItself) {
  const cv::Mat bgr = noise(700, 90, 3);
  const cv::Mat before = bgr.clone();
  const ShownPicture picture = shown(bgr);
  EXPECT_EQ(picture.whole(0).first, bgr.data);
  EXPECT_EQ(picture.whole(0).bytes_per_row, bgr.step[0]);
  EXPECT_EQ(picture.width_px(), 700);
  EXPECT_EQ(picture.height_px(), 90);
  for (const ViewAdjust& adjust :
       {ViewAdjust{0.3, 2.0, 0.0, false}, ViewAdjust{0.0, 1.0, 1.0, false},
        ViewAdjust{-0.2, 0.7, 0.5, true}}) {
    EXPECT_NE(shown(bgr, adjust).whole(0).first, bgr.data);
    EXPECT_EQ(cv::norm(bgr, before, cv::NORM_INF), 0.0) << "what is measured was changed";
  }
}

TEST(ShownPicture, KeepsItsPixelsWhenThePictureIsGone) {
  cv::Mat bgr = noise(40, 30, 4);
  const cv::Mat before = bgr.clone();
  const ShownPicture picture = shown(bgr);
  bgr.release();
  EXPECT_EQ(cv::norm(level_of(picture, 0), before, cv::NORM_INF), 0.0);
}

TEST(ShownPicture, SidesHalveRoundingUpUntilTheyFit) {
  struct Case {
    int width;
    int height;
    std::vector<std::pair<int, int>> sides;
  };
  const std::vector<Case> cases = {
      {1, 1, {{1, 1}}},
      {512, 512, {{512, 512}}},
      {513, 1, {{513, 1}, {257, 1}}},
      {1, 1025, {{1, 1025}, {1, 513}, {1, 257}}},
      {2049, 1023, {{2049, 1023}, {1025, 512}, {513, 256}, {257, 128}}},
      {1000, 3, {{1000, 3}, {500, 2}}}};
  int checked = 0;
  for (const Case& c : cases) {
    for (const bool edges : {false, true}) {
      ViewAdjust adjust;
      adjust.edges = edges;
      adjust.local_contrast = edges ? 1.0 : 0.0;
      const ShownPicture picture = shown(noise(c.width, c.height, 5), adjust);
      ASSERT_EQ(picture.levels(), static_cast<int>(c.sides.size())) << c.width;
      for (int level = 0; level < picture.levels(); ++level) {
        const auto& [width, height] = c.sides[static_cast<std::size_t>(level)];
        EXPECT_EQ(picture.whole(level).width_px, width);
        EXPECT_EQ(picture.whole(level).height_px, height);
        EXPECT_GE(picture.whole(level).bytes_per_row, 3U * static_cast<unsigned>(width));
        ++checked;
      }
    }
  }
  EXPECT_EQ(checked, 2 * 13);
}

TEST(ShownPicture, EveryPixelIsTheMeanOfThoseItCovers) {
  constexpr double kRounding = 0.5 + 1e-9;  // to a whole grey level
  int pixels = 0;
  for (const cv::Size size : {cv::Size(601, 33), cv::Size(600, 34), cv::Size(1, 515)}) {
    const cv::Mat bgr = noise(size.width, size.height, 6);
    const cv::Mat half = level_of(shown(bgr), 1);
    for (int y = 0; y < half.rows; ++y) {
      for (int x = 0; x < half.cols; ++x) {
        const cv::Rect all(0, 0, bgr.cols, bgr.rows);
        const cv::Scalar mean = cv::mean(bgr(cv::Rect(2 * x, 2 * y, 2, 2) & all));
        for (int i = 0; i < 3; ++i) {
          ASSERT_NEAR(half.at<cv::Vec3b>(y, x)[i], mean[i], kRounding) << x << ", " << y;
        }
        ++pixels;
      }
    }
  }
  EXPECT_EQ(pixels, 301 * 17 + 300 * 17 + 258);
}

TEST(ShownPicture, HalvingKeepsTheMeanBrightness) {
  // Halves are rounded up, by 1/8 grey level a step where all remainders are alike.
  constexpr double kRoundingUp = 0.125;
  constexpr double kChance = 0.02;  // of the remainders' spread over 10^4 pixels or more
  const cv::Mat bgr = noise(4096, 2048, 7);
  const ShownPicture picture = shown(bgr);
  ASSERT_EQ(picture.levels(), 4);
  for (int level = 1; level < 4; ++level) {
    EXPECT_NEAR(mean_of(level_of(picture, level)), mean_of(bgr) + level * kRoundingUp, kChance);
  }
}

TEST(ShownPicture, PartsAreCutAtTheEdge) {
  const cv::Mat bgr = noise(1030, 40, 8);
  const ShownPicture picture = shown(bgr);
  const auto inner = picture.part(0, 7, 5, 20, 10);
  EXPECT_EQ(inner.width_px, 20);
  EXPECT_EQ(inner.height_px, 10);
  EXPECT_EQ(inner.first, bgr.ptr<uchar>(5, 7));
  const auto corner = picture.part(0, 1029, 39, 512, 512);
  EXPECT_EQ(corner.width_px, 1);
  EXPECT_EQ(corner.height_px, 1);
  const auto half = picture.part(1, 500, 10, 512, 512);
  EXPECT_EQ(half.width_px, 15);
  EXPECT_EQ(half.height_px, 10);
}

TEST(ViewAdjust, BrightnessAndGammaNeverTurnShadesRound) {
  cv::Mat ramp(1, 256, CV_8UC3);
  for (int i = 0; i < 256; ++i)
    ramp.at<cv::Vec3b>(0, i) = cv::Vec3b::all(cv::saturate_cast<uchar>(i));
  int cases = 0;
  for (const double gamma : {0.25, 0.8, 1.0, 2.2, 4.0}) {
    cv::Mat darker;
    for (const double brightness : {-1.0, -0.4, 0.0, 0.4, 1.0}) {
      const cv::Mat out = level_of(shown(ramp, {brightness, gamma, 0.0, false}), 0);
      for (int i = 1; i < 256; ++i) {
        EXPECT_GE(out.at<cv::Vec3b>(0, i)[1], out.at<cv::Vec3b>(0, i - 1)[1]);
        if (!darker.empty()) {
          EXPECT_GE(out.at<cv::Vec3b>(0, i)[0], darker.at<cv::Vec3b>(0, i)[0]);
        }
      }
      if (brightness == -1.0) {
        EXPECT_EQ(cv::norm(out, cv::NORM_INF), 0.0);
      }
      if (brightness == 1.0) {
        EXPECT_EQ(cv::mean(out), cv::Scalar(255, 255, 255));
      }
      if (brightness == 0.0) {
        // The middle of the scale is lifted where gamma is above 1, and both ends stay.
        EXPECT_EQ(out.at<cv::Vec3b>(0, 0)[0], 0);
        EXPECT_EQ(out.at<cv::Vec3b>(0, 255)[0], 255);
        constexpr double kStep = 0.5 + 1e-9;  // a whole grey level
        EXPECT_NEAR(out.at<cv::Vec3b>(0, 64)[2], 255.0 * std::pow(64.0 / 255.0, 1.0 / gamma),
                    kStep);
      }
      darker = out;
      ++cases;
    }
  }
  EXPECT_EQ(cases, 25);
}

TEST(ViewAdjust, LocalContrastSpreadsTheShadesOfADimCorner) {
  cv::Mat dim(400, 400, CV_8UC3);
  cv::RNG random(9);
  random.fill(dim, cv::RNG::NORMAL, 30, 4);
  const auto spread = [](const cv::Mat& bgr) {
    cv::Scalar mean;
    cv::Scalar deviation;
    cv::meanStdDev(bgr, mean, deviation);
    return deviation[1];
  };
  double before = spread(dim);
  int steps = 0;
  for (const double strength : {0.25, 0.5, 1.0}) {
    const double now = spread(level_of(shown(dim, {0.0, 1.0, strength, false}), 0));
    EXPECT_GT(now, 1.1 * before) << strength;
    before = now;
    ++steps;
  }
  EXPECT_EQ(steps, 3);
}

TEST(ViewAdjust, LocalContrastKeepsColours) {
  // One whole step for each of two roundings.
  constexpr int kSteps = 2;
  const cv::Mat bgr = shades(300, 200);
  const cv::Mat out = level_of(shown(bgr, {0.0, 1.0, 1.0, false}), 0);
  int compared = 0;
  for (int y = 0; y < bgr.rows; ++y) {
    for (int x = 0; x < bgr.cols; ++x) {
      const cv::Vec3b colour = out.at<cv::Vec3b>(y, x);
      if (colour[0] == 0 || colour[2] == 255) continue;  // cut off
      ASSERT_NEAR(colour[2] - colour[0], 20, kSteps);
      ++compared;
    }
  }
  EXPECT_GT(compared, 40000);
}

// Pixels from x = `step` on are lighter. The border lies between two pixels, so both sides of it
// are equally steep.
TEST(ViewAdjust, EdgesLieAtTheStep) {
  int cases = 0;
  for (const int step : {200, 201, 1001}) {
    for (const bool lying : {false, true}) {
      cv::Mat bgr(300, 2000, CV_8UC3, cv::Scalar::all(60));
      bgr.colRange(step, bgr.cols).setTo(cv::Scalar::all(140));
      if (lying) bgr = bgr.t();
      ViewAdjust adjust;
      adjust.edges = true;
      const ShownPicture picture = shown(bgr, adjust);
      ASSERT_EQ(picture.levels(), 3);
      for (int level = 0; level < picture.levels(); ++level) {
        cv::Mat lines = level_of(picture, level);
        if (lying) lines = lines.t();
        const double at = static_cast<double>(step) / (1 << level) - 0.5;
        double dark = 0.0;
        double sum = 0.0;
        for (int x = 0; x < lines.cols; ++x) {
          const double ink = 255.0 - lines.at<cv::Vec3b>(37, x)[0];
          dark += ink;
          sum += ink * x;
        }
        // The eye cannot tell a fifth of a pixel; lines are cut off at black, which shifts their
        // middle by some of that where the step lies inside a pixel.
        constexpr double kWithin = 0.2;
        ASSERT_GT(dark, 0.0);
        EXPECT_NEAR(sum / dark, at, kWithin) << step << " at level " << level;
        // It is black in its middle, white three pixels away, and alike in every row.
        EXPECT_EQ(lines.at<cv::Vec3b>(37, static_cast<int>(std::lround(at)))[1], 0);
        EXPECT_EQ(lines.at<cv::Vec3b>(37, static_cast<int>(std::lround(at)) + 4)[1], 255);
        EXPECT_EQ(lines.at<cv::Vec3b>(37, static_cast<int>(std::lround(at)) - 4)[1], 255);
        const cv::Mat first = cv::repeat(lines.row(0), lines.rows, 1);
        EXPECT_EQ(cv::norm(lines, first, cv::NORM_INF), 0.0);
        ++cases;
      }
    }
  }
  EXPECT_EQ(cases, 18);
}

TEST(ViewAdjust, PlainWallsStayWhiteWithoutEdges) {
  ViewAdjust adjust;
  adjust.edges = true;
  cv::Mat wall(200, 300, CV_8UC3);
  for (int x = 0; x < wall.cols; ++x) wall.col(x).setTo(cv::Scalar::all(60 + x / 3));
  EXPECT_EQ(cv::mean(level_of(shown(wall, adjust), 0)), cv::Scalar(255, 255, 255));
}

TEST(ViewAdjust, ValuesOutsideTheirRangeAreRefused) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  int refused = 0;
  for (const ViewAdjust& adjust :
       {ViewAdjust{1.1, 1.0, 0.0, false}, ViewAdjust{nan, 1.0, 0.0, false},
        ViewAdjust{0.0, 0.0, 0.0, false}, ViewAdjust{0.0, 5.0, 0.0, false},
        ViewAdjust{0.0, nan, 0.0, false}, ViewAdjust{0.0, 1.0, -0.1, false},
        ViewAdjust{0.0, 1.0, nan, false}}) {
    const auto made = ShownPicture::of(picture_of(noise(4, 4, 10)), adjust);
    ASSERT_FALSE(made.ok());
    EXPECT_EQ(made.problem().code, Code::kBadValue);
    ++refused;
  }
  EXPECT_EQ(refused, 7);
}

TEST(ShownPicture, StopsWhenAsked) {
  std::stop_source stop;
  stop.request_stop();
  const auto made = ShownPicture::of(picture_of(noise(600, 600, 11)), {}, stop.get_token());
  ASSERT_FALSE(made.ok());
  EXPECT_EQ(made.problem().code, Code::kCannotBeAnswered);
}

TEST(ShownPicture, NoPixelsIsAProblem) {
  const auto made = ShownPicture::of(Picture{}, {});
  ASSERT_FALSE(made.ok());
  EXPECT_EQ(made.problem().code, Code::kFileTooLarge);
  EXPECT_TRUE(turned_picture(Picture{}, 1).bgr.empty());
}

}  // namespace
}  // namespace potshadow

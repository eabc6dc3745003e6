// SPDX-License-Identifier: MIT
#include "geometry/calibration.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <string>
#include <vector>

namespace potshadow {
namespace {

using testing::HasSubstr;

constexpr int kWidth = 4000;
constexpr int kHeight = 3000;
constexpr double kNoisePx = 0.3;  // a found corner of a 12-megapixel picture
const BoardShape kBoard{9, 6, 24.0};
const Lens<double> kTrueLens{3100.0, 2021.0, 1479.0, 0.035, -0.05};

struct Tilts {
  double most_deg = 40.0;  // about both axes of the board, evenly spread between plus and minus
  double same_deg = 0.0;   // added about the upright axis, the same for all pictures
};

// Returns the board's corners in pictures from 350 to 600 mm away, each seen whole.
std::vector<BoardCorners> pictures_of_board(std::size_t count, const Tilts& tilts,
                                            std::uint64_t seed, double noise_px = kNoisePx) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> evenly(-1.0, 1.0);
  std::normal_distribution<double> noise(0.0, 1.0);
  constexpr double kDegree = std::numbers::pi / 180.0;
  std::vector<BoardCorners> pictures;
  while (pictures.size() < count) {
    const double about_y = (tilts.same_deg + tilts.most_deg * evenly(random)) * kDegree;
    const double about_x = tilts.most_deg * evenly(random) * kDegree;
    const double about_z = 20.0 * evenly(random) * kDegree;
    const Eigen::Matrix3d turn = (Eigen::AngleAxisd(about_z, Eigen::Vector3d::UnitZ()) *
                                  Eigen::AngleAxisd(about_y, Eigen::Vector3d::UnitY()) *
                                  Eigen::AngleAxisd(about_x, Eigen::Vector3d::UnitX()))
                                     .toRotationMatrix();
    const Eigen::Vector3d middle(60.0 * evenly(random), 40.0 * evenly(random),
                                 475.0 + 125.0 * evenly(random));
    BoardCorners corners;
    bool whole = true;
    for (int row = 0; row < kBoard.rows; ++row) {
      for (int column = 0; column < kBoard.columns; ++column) {
        const Eigen::Vector3d on_board((column - (kBoard.columns - 1) / 2.0) * kBoard.square_mm,
                                       (row - (kBoard.rows - 1) / 2.0) * kBoard.square_mm, 0.0);
        const Eigen::Vector3d seen = turn * on_board + middle;
        const Eigen::Vector2d pixel = project(kTrueLens, seen);
        whole = whole && pixel.x() > 0.0 && pixel.y() > 0.0 && pixel.x() < kWidth &&
                pixel.y() < kHeight;
        corners.push_back(
            {pixel.x() + noise_px * noise(random), pixel.y() + noise_px * noise(random)});
      }
    }
    if (whole) pictures.push_back(corners);
  }
  return pictures;
}

TEST(Calibration, FindsTheLensThatMadeTheCorners) {
  // OpenCV takes corners as floats: a few ten-thousandths of a pixel at 4000.
  constexpr double kFloatPx = 0.02;
  constexpr double kFloatBend = 1e-4;
  const auto found = calibrate_lens(pictures_of_board(12, {}, 1, 0.0), kBoard, kWidth, kHeight);
  ASSERT_TRUE(found.ok()) << found.problem().what;
  EXPECT_NEAR(found->focal_px.value, kTrueLens.focal_px, kFloatPx);
  EXPECT_NEAR(found->cx_px.value, kTrueLens.cx_px, kFloatPx);
  EXPECT_NEAR(found->cy_px.value, kTrueLens.cy_px, kFloatPx);
  EXPECT_NEAR(found->k1.value, kTrueLens.k1, kFloatBend);
  EXPECT_NEAR(found->k2.value, kTrueLens.k2, 10.0 * kFloatBend);
  EXPECT_EQ(found->picture_rms_px.size(), 12U);
  ASSERT_EQ(found->board_distance_mm.size(), 12U);
  for (const double distance : found->board_distance_mm) {
    EXPECT_GT(distance, 350.0);
    EXPECT_LT(distance, 610.0);
  }
}

TEST(Calibration, IntervalsHoldTheTruthAsOftenAsTheySay) {
  constexpr int kSeeds = 200;
  // 95 % of 200 is 190; binomial, three standard deviations either way.
  constexpr int kFewest = 181;
  constexpr int kMost = 199;
  constexpr std::size_t kPictures = 10;
  int focal = 0;
  int middle = 0;
  int bend = 0;
  int ran = 0;
  double misfit = 0.0;
  const auto holds = [](const Measured& m, double truth) {
    return m.low95 <= truth && truth <= m.high95 ? 1 : 0;
  };
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    const auto found =
        calibrate_lens(pictures_of_board(kPictures, {}, seed), kBoard, kWidth, kHeight);
    ASSERT_TRUE(found.ok()) << seed << ": " << found.problem().detail;
    focal += holds(found->focal_px, kTrueLens.focal_px);
    middle += holds(found->cx_px, kTrueLens.cx_px);
    bend += holds(found->k1, kTrueLens.k1);
    misfit += found->rms_px / kSeeds;
    ++ran;
  }
  EXPECT_EQ(ran, kSeeds);
  RecordProperty("focal", focal);
  RecordProperty("middle", middle);
  RecordProperty("bend", bend);
  EXPECT_GE(focal, kFewest);
  EXPECT_LE(focal, kMost);
  EXPECT_GE(middle, kFewest);
  EXPECT_GE(bend, kFewest);
  // The noise put in, in two directions, less what the unknowns take up.
  EXPECT_NEAR(misfit, kNoisePx * std::sqrt(2.0), 0.03);
}

TEST(Calibration, ASquareOnBoardDoesNotFixTheFocalLength) {
  int refused = 0;
  constexpr int kSeeds = 10;
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    const auto found =
        calibrate_lens(pictures_of_board(8, {0.0, 0.0}, seed), kBoard, kWidth, kHeight);
    if (found.ok()) {
      ADD_FAILURE() << seed << ": " << found->focal_px.value << " ± " << found->focal_px.sd;
      continue;
    }
    EXPECT_EQ(found.problem().code, Code::kCannotBeAnswered) << seed;
    EXPECT_THAT(found.problem().what, HasSubstr("square on"));
    ++refused;
  }
  EXPECT_EQ(refused, kSeeds);
}

TEST(Calibration, TooFewPicturesAreRefused) {
  for (const std::size_t count : {std::size_t{0}, std::size_t{1}, kFewestBoardPictures - 1}) {
    const auto found = calibrate_lens(pictures_of_board(count, {}, 3), kBoard, kWidth, kHeight);
    ASSERT_FALSE(found.ok()) << count;
    EXPECT_EQ(found.problem().code, Code::kTooFewMarks);
    EXPECT_THAT(found.problem().what, HasSubstr("in " + std::to_string(count) + " picture"));
  }
}

TEST(Calibration, CornersOfAnotherThingFitNoLens) {
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> across(0.0, kWidth);
  std::uniform_real_distribution<double> down(0.0, kHeight);
  std::vector<BoardCorners> pictures(6);
  for (BoardCorners& corners : pictures) {
    for (std::size_t i = 0; i < kBoard.corners(); ++i) {
      corners.push_back({across(random), down(random)});
    }
  }
  EXPECT_FALSE(calibrate_lens(pictures, kBoard, kWidth, kHeight).ok());
  // A zoomed picture among the others.
  pictures = pictures_of_board(8, {}, 6);
  for (PhotoPoint& corner : pictures.back()) {
    corner.x_px = 2000.0 + 0.5 * (corner.x_px - 2000.0) + 0.02 * corner.y_px;
    corner.y_px = 0.8 * corner.y_px;
  }
  EXPECT_FALSE(calibrate_lens(pictures, kBoard, kWidth, kHeight).ok());
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "outline/board.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <vector>

#include "geometry/calibration.h"
#include "geometry/plane_pose.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

constexpr int kColumns = 9;
constexpr int kRows = 6;

// Returns a board seen askew, and where its inner corners lie: squares of 80 px, through the
// projective map `warp`, smoothed as a lens does.
Picture drawn_board(const cv::Matx33d& warp, cv::Size size) {
  constexpr int kSquare = 80;
  constexpr int kMargin = 100;
  cv::Mat flat(kMargin * 2 + kSquare * (kRows + 1), kMargin * 2 + kSquare * (kColumns + 1), CV_8UC3,
               cv::Scalar::all(225));
  for (int row = 0; row <= kRows; ++row) {
    for (int column = 0; column <= kColumns; ++column) {
      if ((row + column) % 2 != 0) continue;
      cv::rectangle(flat,
                    cv::Rect(kMargin + column * kSquare, kMargin + row * kSquare, kSquare, kSquare),
                    cv::Scalar::all(35), cv::FILLED);
    }
  }
  Picture picture;
  cv::warpPerspective(flat, picture.bgr, warp, size, cv::INTER_CUBIC, cv::BORDER_CONSTANT,
                      cv::Scalar::all(120));
  cv::GaussianBlur(picture.bgr, picture.bgr, cv::Size(), 0.8);
  picture.facts.width_px = size.width;
  picture.facts.height_px = size.height;
  return picture;
}

std::vector<PhotoPoint> true_corners(const cv::Matx33d& warp) {
  std::vector<PhotoPoint> corners;
  for (int row = 0; row < kRows; ++row) {
    for (int column = 0; column < kColumns; ++column) {
      // Between pixels: the square's first pixel has its middle half a pixel in.
      const cv::Vec3d at =
          warp * cv::Vec3d(100.0 + 80.0 * (column + 1) - 0.5, 100.0 + 80.0 * (row + 1) - 0.5, 1.0);
      corners.push_back({at[0] / at[2], at[1] / at[2]});
    }
  }
  return corners;
}

double worst_distance(std::vector<PhotoPoint> found, const std::vector<PhotoPoint>& truth) {
  const auto worst = [&] {
    double most = 0.0;
    for (std::size_t i = 0; i < truth.size(); ++i) {
      most =
          std::max(most, std::hypot(found[i].x_px - truth[i].x_px, found[i].y_px - truth[i].y_px));
    }
    return most;
  };
  const double forwards = worst();
  std::reverse(found.begin(), found.end());
  return std::min(forwards, worst());
}

TEST(Board, CornersAreFoundToATenthOfAPixel) {
  constexpr double kTenth = 0.1;  // what sub-pixel operators are routinely better than
  const std::array<cv::Matx33d, 3> warps{{{0.9, 0.1, 20, -0.05, 0.95, 80, 0.0001, 0.00005, 1},
                                          {0.8, -0.2, 200, 0.15, 0.8, 40, -0.0001, 0.0003, 1},
                                          // More than is searched at once.
                                          {2.4, 0.3, 100, -0.1, 2.6, 300, 0.00005, 0.0001, 1}}};
  const std::array<cv::Size, 3> sizes{{{1000, 800}, {1200, 900}, {3200, 2400}}};
  int ran = 0;
  for (std::size_t i = 0; i < warps.size(); ++i) {
    const auto found = find_board(drawn_board(warps.at(i), sizes.at(i)), kColumns, kRows);
    ASSERT_TRUE(found.ok()) << i;
    ASSERT_EQ(found->size(), 54U);
    EXPECT_LT(worst_distance(*found, true_corners(warps.at(i))), kTenth) << i;
    ++ran;
  }
  EXPECT_EQ(ran, 3);
}

TEST(Board, CornersOfANoisyPictureAreFoundAsWellAsTheirEdgesAllow) {
  // Squares of some 32 px and noise of 4 in 256. An edge of contrast 95 either way, blurred by one
  // pixel and seen over 0.4 squares to both sides, cannot be found better than to
  // 4 / sqrt(25.6 x 95^2 x 2 / sqrt(pi)) = 0.008 px (Cramer-Rao), so a corner not better than to
  // 0.011 px. Half as much again is left for what is rounded in drawing.
  constexpr double kNoise = 4.0;
  constexpr double kMostRmsPx = 0.017;
  const cv::Matx33d warp(0.4, 0.03, 40, -0.02, 0.41, 50, 0.00002, 0.00003, 1);
  const std::vector<PhotoPoint> truth = true_corners(warp);
  double squares = 0.0;
  int ran = 0;
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    // Drawn four times as large, so that every pixel is the mean over its own square.
    const cv::Matx33d enlarge(4.0, 0.0, 1.5, 0.0, 4.0, 1.5, 0.0, 0.0, 1.0);
    Picture picture = drawn_board(enlarge * warp, {2000, 1800});
    cv::resize(picture.bgr, picture.bgr, cv::Size(500, 450), 0.0, 0.0, cv::INTER_AREA);
    cv::GaussianBlur(picture.bgr, picture.bgr, cv::Size(), 0.9);
    cv::RNG random(seed);
    cv::Mat noise(picture.bgr.size(), CV_64F);
    random.fill(noise, cv::RNG::NORMAL, 0.0, kNoise);
    cv::Mat grey;
    cv::cvtColor(picture.bgr, grey, cv::COLOR_BGR2GRAY);
    grey.convertTo(grey, CV_64F);
    grey += noise;
    grey.convertTo(grey, CV_8U);
    cv::cvtColor(grey, picture.bgr, cv::COLOR_GRAY2BGR);
    auto found = find_board(picture, kColumns, kRows);
    ASSERT_TRUE(found.ok()) << seed;
    ASSERT_EQ(found->size(), truth.size());
    std::vector<PhotoPoint> corners = *found;
    constexpr double kFarPx = 16.0;  // half a square: begun at the other end
    if (std::hypot(corners[0].x_px - truth[0].x_px, corners[0].y_px - truth[0].y_px) > kFarPx) {
      std::reverse(corners.begin(), corners.end());
    }
    for (std::size_t i = 0; i < truth.size(); ++i) {
      squares += std::pow(corners[i].x_px - truth[i].x_px, 2.0) +
                 std::pow(corners[i].y_px - truth[i].y_px, 2.0);
    }
    ++ran;
  }
  EXPECT_EQ(ran, 5);
  const double rms = std::sqrt(squares / (5.0 * static_cast<double>(truth.size())));
  RecordProperty("rms_px", std::to_string(rms));
  EXPECT_LT(rms, kMostRmsPx);
}

TEST(Board, APictureWithoutTheWholeBoardIsRefused) {
  const cv::Matx33d half_out(0.9, 0.1, 500, -0.05, 0.95, 80, 0.0001, 0.00005, 1);
  Picture grey;
  grey.bgr = cv::Mat(480, 640, CV_8UC3, cv::Scalar::all(128));
  for (const Picture& picture : {drawn_board(half_out, {1000, 800}), grey, Picture()}) {
    const auto found = find_board(picture, kColumns, kRows);
    ASSERT_FALSE(found.ok());
    EXPECT_EQ(found.problem().code, Code::kCannotBeAnswered);
    EXPECT_THAT(found.problem().what, HasSubstr("9 by 6"));
  }
}

// --- Photographs ------------------------------------------------------------------------------

// Pictures of one chessboard by two real cameras, as Debian's opencv-doc installs them.
const std::filesystem::path kPhotographs = "/usr/share/doc/opencv-doc/examples/data";
const BoardShape kShape{kColumns, kRows, 25.0};  // any size of square will do: ratios are compared

struct Photographed {
  std::vector<BoardCorners> corners;
  int width_px = 0;
  int height_px = 0;
};

Photographed photographed_boards(const std::string& camera) {
  Photographed all;
  for (int number = 1; number <= 14; ++number) {
    const std::string name = camera + (number < 10 ? "0" : "") + std::to_string(number) + ".jpg";
    if (!std::filesystem::exists(kPhotographs / name)) continue;
    const auto picture = decode_photo(kPhotographs / name);
    if (!picture) continue;
    const auto corners = find_board(*picture, kColumns, kRows);
    if (!corners) continue;
    all.corners.push_back(*corners);
    all.width_px = picture->facts.width_px;
    all.height_px = picture->facts.height_px;
  }
  return all;
}

// Relative errors of distances.
struct DistanceErrors {
  std::vector<double> all;
  std::vector<double> neighbours;  // of one square, along a row or a column
};

// Appends the errors of the distances between all inner corners of one picture, the pose of the
// board being known from its four outermost ones.
void add_distance_errors(const BoardCorners& corners, const Lens<double>& lens,
                         DistanceErrors& errors) {
  const auto index = [](int row, int column) {
    return static_cast<std::size_t>(row * kColumns + column);
  };
  const auto flat = [&](int row, int column) {
    return undistorted(lens, corners[index(row, column)]);
  };
  // A board's rows run down the picture, a rectangle's corners up, unless the board is upside down;
  // either way its face is the same.
  std::array<Eigen::Vector2d, 4> outer{flat(kRows - 1, 0), flat(kRows - 1, kColumns - 1),
                                       flat(0, kColumns - 1), flat(0, 0)};
  const auto poses = rectangle_poses(outer, Mm{(kColumns - 1) * kShape.square_mm},
                                     Mm{(kRows - 1) * kShape.square_mm});
  if (!poses) return;
  const PlanePose& pose = poses->front();
  const Eigen::Vector3d normal = pose.camera_from_plane.col(2);
  std::vector<Eigen::Vector3d> places;
  for (int row = 0; row < kRows; ++row) {
    for (int column = 0; column < kColumns; ++column) {
      const Eigen::Vector2d at = flat(row, column);
      const Eigen::Vector3d ray(at.x(), at.y(), 1.0);
      places.push_back(ray * (normal.dot(pose.origin_mm) / normal.dot(ray)));
    }
  }
  for (int a = 0; a < kRows * kColumns; ++a) {
    for (int b = a + 1; b < kRows * kColumns; ++b) {
      const double squares = std::hypot(a / kColumns - b / kColumns, a % kColumns - b % kColumns);
      const double measured =
          (places[static_cast<std::size_t>(a)] - places[static_cast<std::size_t>(b)]).norm();
      const double error = std::abs(measured / (squares * kShape.square_mm) - 1.0);
      errors.all.push_back(error);
      if (squares < 1.1) errors.neighbours.push_back(error);
    }
  }
}

// Returns the focal length, along x and along y, of OpenCV's own calibration with its own model.
std::array<double, 2> focal_by_opencv(const Photographed& all) {
  std::vector<std::vector<cv::Point3f>> boards(all.corners.size());
  std::vector<std::vector<cv::Point2f>> images(all.corners.size());
  for (std::size_t i = 0; i < all.corners.size(); ++i) {
    for (std::size_t c = 0; c < all.corners[i].size(); ++c) {
      const int column = static_cast<int>(c) % kColumns;
      const int row = static_cast<int>(c) / kColumns;
      boards[i].emplace_back(static_cast<float>(column * kShape.square_mm),
                             static_cast<float>(row * kShape.square_mm), 0.0F);
      images[i].emplace_back(static_cast<float>(all.corners[i][c].x_px),
                             static_cast<float>(all.corners[i][c].y_px));
    }
  }
  cv::Mat camera;
  cv::Mat lens;
  std::vector<cv::Mat> rotations;
  std::vector<cv::Mat> translations;
  cv::calibrateCamera(boards, images, {all.width_px, all.height_px}, camera, lens, rotations,
                      translations);
  return {camera.at<double>(0, 0), camera.at<double>(1, 1)};
}

class RealCamera : public testing::TestWithParam<std::string> {};
// What OpenCV's own program found of this camera, with other corners: left_intrinsics.yml in the
// same package.
constexpr double kPublishedLeftFocalPx = 535.91573396163199;

INSTANTIATE_TEST_SUITE_P(Both, RealCamera, testing::Values("left", "right"),
                         [](const auto& info) { return info.param; });

TEST_P(RealCamera, CalibratedOnHalfItsPicturesMeasuresTheOtherHalf) {
  // Of all distances, those between neighbours too, which lie some 30 px apart: 1.5 % of that is
  // half a pixel.
  constexpr double kMedianError = 0.005;
  constexpr double kWorstError = 0.015;
  if (!std::filesystem::exists(kPhotographs / "left01.jpg")) {
    GTEST_SKIP() << "the package opencv-doc is not installed";
  }
  const Photographed all = photographed_boards(GetParam());
  ASSERT_EQ(all.corners.size(), 13U);
  const std::array<double, 2> opencv = focal_by_opencv(all);
  int halves = 0;
  for (const std::size_t first : {0U, 1U}) {
    std::vector<BoardCorners> taught;
    std::vector<BoardCorners> tested;
    for (std::size_t i = 0; i < all.corners.size(); ++i) {
      (i % 2 == first ? taught : tested).push_back(all.corners[i]);
    }
    const auto found = calibrate_lens(taught, kShape, all.width_px, all.height_px);
    ASSERT_TRUE(found.ok()) << found.problem().what << found.problem().detail;
    DistanceErrors errors;
    for (const BoardCorners& corners : tested) {
      add_distance_errors(corners, found->lens(), errors);
    }
    ASSERT_EQ(errors.all.size(), tested.size() * 54U * 53U / 2U);
    ASSERT_EQ(errors.neighbours.size(), tested.size() * (8U * 6U + 9U * 5U));
    std::sort(errors.all.begin(), errors.all.end());
    std::sort(errors.neighbours.begin(), errors.neighbours.end());
    const auto record = [&](const char* name, double value) {
      RecordProperty(name + std::to_string(first), std::to_string(value));
    };
    record("median", errors.all[errors.all.size() / 2]);
    record("worst", errors.all.back());
    record("neighbours_median", errors.neighbours[errors.neighbours.size() / 2]);
    record("neighbours_worst", errors.neighbours.back());
    record("focal", found->focal_px.value);
    record("focal_low", found->focal_px.low95);
    record("focal_high", found->focal_px.high95);
    record("opencv_x", opencv[0]);
    record("opencv_y", opencv[1]);
    EXPECT_LT(errors.all[errors.all.size() / 2], kMedianError);
    EXPECT_LT(errors.all.back(), kWorstError);
    std::vector<double> by_others(opencv.begin(), opencv.end());
    if (GetParam() == "left") by_others.push_back(kPublishedLeftFocalPx);
    for (const double focal : by_others) {
      EXPECT_GE(focal, found->focal_px.low95);
      EXPECT_LE(focal, found->focal_px.high95);
    }
    ++halves;
  }
  EXPECT_EQ(halves, 2);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "outline/board.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
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

// Pictures of a chessboard by a real camera, as Debian's opencv-doc installs them.
const std::filesystem::path kPhotographs = "/usr/share/doc/opencv-doc/examples/data";
const BoardShape kShape{kColumns, kRows, 25.0};  // any size of square will do: ratios are compared

struct Photographed {
  std::vector<BoardCorners> corners;
  int width_px = 0;
  int height_px = 0;
};

Photographed photographed_boards() {
  Photographed all;
  for (int number = 1; number <= 14; ++number) {
    const std::string name =
        std::string("left") + (number < 10 ? "0" : "") + std::to_string(number) + ".jpg";
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

struct DistanceErrors {
  std::vector<double> all;
  double worst = 0.0;            // of two squares and more
  double worst_neighbour = 0.0;  // of less
};

// Returns the relative errors of the distances between inner corners of one picture, the pose of
// the board being known from its four outermost ones.
DistanceErrors distance_errors(const BoardCorners& corners, const Lens<double>& lens) {
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
  if (!poses) return {};
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
  DistanceErrors errors;
  for (int a = 0; a < kRows * kColumns; ++a) {
    for (int b = a + 1; b < kRows * kColumns; ++b) {
      const double truth =
          kShape.square_mm * std::hypot(a / kColumns - b / kColumns, a % kColumns - b % kColumns);
      const double measured =
          (places[static_cast<std::size_t>(a)] - places[static_cast<std::size_t>(b)]).norm();
      const double error = std::abs(measured / truth - 1.0);
      errors.all.push_back(error);
      double& worst = truth < 2.0 * kShape.square_mm ? errors.worst_neighbour : errors.worst;
      worst = std::max(worst, error);
    }
  }
  return errors;
}

TEST(Board, ARealCameraCalibratedOnHalfItsPicturesMeasuresTheOtherHalf) {
  constexpr double kMedianError = 0.005;
  constexpr double kWorstError = 0.015;
  // Neighbours lie some 30 px apart: a quarter of a pixel in each of two corners of a small picture
  // is 1 % already.
  constexpr double kWorstNeighbour = 0.02;
  const Photographed all = photographed_boards();
  if (all.corners.empty()) GTEST_SKIP() << "the package opencv-doc is not installed";
  ASSERT_EQ(all.corners.size(), 13U);
  int halves = 0;
  for (const std::size_t first : {0U, 1U}) {
    std::vector<BoardCorners> taught;
    std::vector<BoardCorners> tested;
    for (std::size_t i = 0; i < all.corners.size(); ++i) {
      (i % 2 == first ? taught : tested).push_back(all.corners[i]);
    }
    const auto found = calibrate_lens(taught, kShape, all.width_px, all.height_px);
    ASSERT_TRUE(found.ok()) << found.problem().what << found.problem().detail;
    std::vector<double> errors;
    double worst = 0.0;
    double worst_neighbour = 0.0;
    for (const BoardCorners& corners : tested) {
      const DistanceErrors more = distance_errors(corners, found->lens());
      errors.insert(errors.end(), more.all.begin(), more.all.end());
      worst = std::max(worst, more.worst);
      worst_neighbour = std::max(worst_neighbour, more.worst_neighbour);
    }
    std::sort(errors.begin(), errors.end());
    ASSERT_EQ(errors.size(), tested.size() * 54U * 53U / 2U);
    EXPECT_LT(errors[errors.size() / 2], kMedianError);
    EXPECT_LT(worst, kWorstError);
    EXPECT_LT(worst_neighbour, kWorstNeighbour);
    RecordProperty("median" + std::to_string(first), std::to_string(errors[errors.size() / 2]));
    RecordProperty("worst" + std::to_string(first), std::to_string(worst));
    RecordProperty("focal" + std::to_string(first), std::to_string(found->focal_px.value));

    // OpenCV's own calibration of all pictures, with its own model.
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
    for (const int axis : {0, 1}) {
      RecordProperty("opencv" + std::to_string(axis),
                     std::to_string(camera.at<double>(axis, axis)));
      EXPECT_GE(camera.at<double>(axis, axis), found->focal_px.low95);
      EXPECT_LE(camera.at<double>(axis, axis), found->focal_px.high95);
    }
    ++halves;
  }
  EXPECT_EQ(halves, 2);
}

}  // namespace
}  // namespace potshadow

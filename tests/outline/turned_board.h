// SPDX-License-Identifier: MIT
// A chessboard as a camera sees it, for the tests of calibration.
#pragma once

#include <numbers>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>

namespace potshadow::testing {

inline constexpr int kTurnedColumns = 9;  // inner corners
inline constexpr int kTurnedRows = 6;
inline constexpr double kTurnedSquareMm = 24.0;
inline constexpr double kTurnedFocalPx = 900.0;
inline const cv::Size kTurnedSize(800, 600);

// Returns the board as a pinhole of kTurnedFocalPx sees it from 400 mm, turned about its middle by
// so many degrees.
inline cv::Mat turned_board(double about_x, double about_y) {
  constexpr int kPixelsPerMm = 2;
  constexpr double kAwayMm = 400.0;
  const int square = kPixelsPerMm * static_cast<int>(kTurnedSquareMm);
  cv::Mat flat(square * (kTurnedRows + 3), square * (kTurnedColumns + 3), CV_8UC3,
               cv::Scalar::all(225));
  for (int row = 0; row <= kTurnedRows; ++row) {
    for (int column = 0; column <= kTurnedColumns; ++column) {
      if ((row + column) % 2 != 0) continue;
      const cv::Rect field((column + 1) * square, (row + 1) * square, square, square);
      cv::rectangle(flat, field, cv::Scalar::all(35), cv::FILLED);
    }
  }
  constexpr double kDegree = std::numbers::pi / 180.0;
  cv::Matx33d turn;
  cv::Rodrigues(cv::Vec3d(about_x * kDegree, about_y * kDegree, 0.0), turn);
  constexpr double kMm = 1.0 / kPixelsPerMm;
  const cv::Matx33d to_mm(kMm, 0.0, -kMm * (flat.cols - 1) / 2.0, 0.0, kMm,
                          -kMm * (flat.rows - 1) / 2.0, 0.0, 0.0, 1.0);
  const cv::Matx33d to_camera(turn(0, 0), turn(0, 1), 0.0, turn(1, 0), turn(1, 1), 0.0, turn(2, 0),
                              turn(2, 1), kAwayMm);
  const cv::Matx33d camera(kTurnedFocalPx, 0.0, (kTurnedSize.width - 1) / 2.0, 0.0, kTurnedFocalPx,
                           (kTurnedSize.height - 1) / 2.0, 0.0, 0.0, 1.0);
  cv::Mat seen;
  cv::warpPerspective(flat, seen, camera * to_camera * to_mm, kTurnedSize, cv::INTER_AREA,
                      cv::BORDER_CONSTANT, cv::Scalar::all(70));
  cv::GaussianBlur(seen, seen, cv::Size(), 0.7);
  return seen;
}

}  // namespace potshadow::testing

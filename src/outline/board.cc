// SPDX-License-Identifier: MIT
#include "outline/board.h"

#include <algorithm>
#include <cmath>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <string>

namespace potshadow {
namespace {

// Searching a larger picture is slow and finds no more.
constexpr double kMostSearchedPx = 1600.0;

bool found_in(const cv::Mat& grey, cv::Size shape, std::vector<cv::Point2f>& corners) {
  if (cv::findChessboardCornersSB(grey, shape, corners, cv::CALIB_CB_NORMALIZE_IMAGE)) return true;
  return cv::findChessboardCorners(
      grey, shape, corners,
      cv::CALIB_CB_ADAPTIVE_THRESH | cv::CALIB_CB_NORMALIZE_IMAGE | cv::CALIB_CB_FILTER_QUADS);
}

// Returns the least distance between corners that are neighbours in a row or a column.
double least_spacing(const std::vector<cv::Point2f>& corners, cv::Size shape) {
  double least = INFINITY;
  const auto at = [&](int row, int column) {
    return corners.at(static_cast<std::size_t>(row * shape.width + column));
  };
  for (int row = 0; row < shape.height; ++row) {
    for (int column = 0; column < shape.width; ++column) {
      if (column > 0) least = std::min(least, cv::norm(at(row, column) - at(row, column - 1)));
      if (row > 0) least = std::min(least, cv::norm(at(row, column) - at(row - 1, column)));
    }
  }
  return least;
}

}  // namespace

Result<std::vector<PhotoPoint>> find_board(const Picture& picture, int columns, int rows) {
  POTSHADOW_CHECK(columns >= 3 && rows >= 3);
  const Problem nothing{
      Code::kCannotBeAnswered,
      "No board of " + std::to_string(columns) + " by " + std::to_string(rows) +
          " inner corners is to be seen whole.",
      "Take the picture again with the whole board in it, in focus and evenly lit.", ""};
  const cv::Size shape(columns, rows);
  std::vector<cv::Point2f> corners;
  cv::Mat grey;
  try {
    cv::cvtColor(picture.bgr, grey, cv::COLOR_BGR2GRAY);
    const double scale = std::min(1.0, kMostSearchedPx / std::max(grey.cols, grey.rows));
    cv::Mat small = grey;
    if (scale < 1.0) cv::resize(grey, small, cv::Size(), scale, scale, cv::INTER_AREA);
    if (!found_in(small, shape, corners)) return nothing;
    // Both pictures' first pixels have their centres at (0, 0).
    const double x_scale = static_cast<double>(grey.cols) / small.cols;
    const double y_scale = static_cast<double>(grey.rows) / small.rows;
    for (cv::Point2f& corner : corners) {
      corner.x = static_cast<float>((corner.x + 0.5) * x_scale - 0.5);
      corner.y = static_cast<float>((corner.y + 0.5) * y_scale - 0.5);
    }
    // The window holds no other corner; small windows are noisy, large ones feel the lens bend.
    constexpr double kWindowPart = 0.3;  // of the distance between corners, each way
    constexpr int kLeastWindowPx = 2;
    constexpr int kMostWindowPx = 15;
    const int window = std::clamp(static_cast<int>(kWindowPart * least_spacing(corners, shape)),
                                  kLeastWindowPx, kMostWindowPx);
    constexpr int kMostSteps = 60;
    constexpr double kSmallStepPx = 1e-3;
    cv::cornerSubPix(grey, corners, cv::Size(window, window), cv::Size(-1, -1),
                     cv::TermCriteria(cv::TermCriteria::COUNT | cv::TermCriteria::EPS, kMostSteps,
                                      kSmallStepPx));
  } catch (const cv::Exception&) {
    return nothing;
  }
  std::vector<PhotoPoint> points;
  for (const cv::Point2f& corner : corners) points.push_back({corner.x, corner.y});
  return points;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "outline/edge_maps.h"

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace potshadow {
namespace {

// Darker than this, in grey levels, noise would count for more than light.
constexpr double kDark = 14.0;
constexpr double kSmoothPx = 1.2;
// An edge is averaged over so many pixels along it each way, and the steepest of so many across.
constexpr int kAlongPx = 5;
constexpr int kAcrossPx = 2;
// What an edge's steepness is compared with: the box's middle one, and the mean of a square.
constexpr double kOfMiddle = 0.8;
constexpr double kOfAround = 0.5;
constexpr int kAroundPx = 31;
constexpr float kLeastSteep = 0.3F;  // grey levels a pixel

// The gradient of each pixel's steepest channel.
EdgeMaps gradients(const cv::Mat& bgr) {
  cv::Mat smooth;
  lifted(bgr).convertTo(smooth, CV_32F);
  cv::GaussianBlur(smooth, smooth, cv::Size(), kSmoothPx);
  cv::Mat dx;
  cv::Mat dy;
  cv::Sobel(smooth, dx, CV_32F, 1, 0, 3, 0.125);
  cv::Sobel(smooth, dy, CV_32F, 0, 1, 3, 0.125);
  EdgeMaps maps{cv::Mat(bgr.size(), CV_32F), cv::Mat(bgr.size(), CV_32F)};
  for (int row = 0; row < bgr.rows; ++row) {
    const auto* gx = dx.ptr<cv::Vec3f>(row);
    const auto* gy = dy.ptr<cv::Vec3f>(row);
    for (int column = 0; column < bgr.cols; ++column) {
      int best = 0;
      float most = -1.F;
      for (int c = 0; c < 3; ++c) {
        const float square = gx[column][c] * gx[column][c] + gy[column][c] * gy[column][c];
        if (square > most) {
          most = square;
          best = c;
        }
      }
      maps.x.at<float>(row, column) = gx[column][best];
      maps.y.at<float>(row, column) = gy[column][best];
    }
  }
  return maps;
}

// Calls work(row, column, direction across of unit length, steepness) where there is any.
template <class Work>
void at_edges(const EdgeMaps& maps, Work work) {
  constexpr float kNone = 1e-6F;
  for (int row = 0; row < maps.x.rows; ++row) {
    for (int column = 0; column < maps.x.cols; ++column) {
      const cv::Point2f g(maps.x.at<float>(row, column), maps.y.at<float>(row, column));
      const float steep = std::sqrt(g.dot(g));
      if (steep > kNone) work(row, column, g * (1.F / steep), steep);
    }
  }
}

EdgeMaps nothing(cv::Size size) {
  return {cv::Mat::zeros(size, CV_32F), cv::Mat::zeros(size, CV_32F)};
}

void set(EdgeMaps& maps, int row, int column, cv::Point2f value) {
  maps.x.at<float>(row, column) = value.x;
  maps.y.at<float>(row, column) = value.y;
}

EdgeMaps averaged_along(const EdgeMaps& maps) {
  EdgeMaps result = nothing(maps.x.size());
  at_edges(maps, [&](int row, int column, cv::Point2f across, float) {
    float sum = 0.F;
    for (int t = -kAlongPx; t <= kAlongPx; ++t) {
      const auto far = static_cast<float>(t);
      const cv::Point2f beside(-far * across.y, far * across.x);
      sum += maps.at(cv::Point2d(column, row) + cv::Point2d(beside)).dot(across);
    }
    set(result, row, column, across * std::max(0.F, sum / (2 * kAlongPx + 1)));
  });
  return result;
}

cv::Mat lengths(const EdgeMaps& maps) {
  cv::Mat length;
  cv::magnitude(maps.x, maps.y, length);
  return length;
}

// Weakens what lies beside the steepest place across.
EdgeMaps sharpened(const EdgeMaps& maps) {
  EdgeMaps result = nothing(maps.x.size());
  at_edges(maps, [&](int row, int column, cv::Point2f across, float steep) {
    float most = steep;
    for (int t = -kAcrossPx; t <= kAcrossPx; ++t) {
      const cv::Point2f there =
          maps.at(cv::Point2d(column, row) + cv::Point2d(static_cast<float>(t) * across));
      most = std::max(most, std::sqrt(there.dot(there)));
    }
    const float part = steep / most;
    set(result, row, column, across * (steep * part * part * part));
  });
  return result;
}

}  // namespace

cv::Point2f EdgeMaps::at(cv::Point2d p) const {
  const auto column = static_cast<int>(std::floor(p.x + 0.5));
  const auto row = static_cast<int>(std::floor(p.y + 0.5));
  if (column < 0 || row < 0 || column >= x.cols || row >= x.rows) return {0.F, 0.F};
  return {x.at<float>(row, column), y.at<float>(row, column)};
}

EdgeMaps edge_maps(const cv::Mat& bgr, const cv::Rect2d& box) {
  EdgeMaps maps = averaged_along(gradients(bgr));
  const cv::Mat steep = lengths(maps);
  std::vector<float> in_box;
  for (int row = 0; row < steep.rows; ++row) {
    for (int column = 0; column < steep.cols; ++column) {
      if (box.contains(cv::Point2d(column, row))) in_box.push_back(steep.at<float>(row, column));
    }
  }
  float middle = 0.F;
  if (!in_box.empty()) {
    const auto half = in_box.begin() + static_cast<std::ptrdiff_t>(in_box.size() / 2);
    std::nth_element(in_box.begin(), half, in_box.end());
    middle = *half;
  }
  cv::Mat around;
  cv::blur(steep, around, cv::Size(kAroundPx, kAroundPx));
  EdgeMaps clear = nothing(bgr.size());
  at_edges(maps, [&](int row, int column, cv::Point2f across, float length) {
    const float usual = std::max({kLeastSteep, static_cast<float>(kOfMiddle) * middle,
                                  static_cast<float>(kOfAround) * around.at<float>(row, column)});
    const float part = length / usual;
    set(clear, row, column, across * (1.F - std::exp(-0.5F * part * part)));
  });
  return sharpened(clear);
}

cv::Mat lifted(const cv::Mat& bgr) {
  cv::Mat table(1, 256, CV_8U);
  for (int i = 0; i < 256; ++i) {
    table.at<unsigned char>(0, i) =
        cv::saturate_cast<unsigned char>(255.0 * std::log1p(i / kDark) / std::log1p(255.0 / kDark));
  }
  cv::Mat result;
  cv::LUT(bgr, table, result);
  return result;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// How clear an edge runs through each pixel of a reduced picture, and which way.
#pragma once

#include <opencv2/core/mat.hpp>
#include <opencv2/core/types.hpp>

// Model: colours are lifted, so that equal ratios of light differ alike and a dark vessel before a
// dark wall counts as much as a pale one. The steepest channel's gradient is averaged along the
// edge, where texture averages out and outlines do not, and kept where it is steepest across. An
// edge is clear where it is much steeper than half of the box and than what is around it.
namespace potshadow {

// CV_32F both: the direction across the edge times its clearness, 0 to 1.
struct EdgeMaps {
  cv::Mat x;
  cv::Mat y;

  // At the nearest pixel; nothing outside.
  cv::Point2f at(cv::Point2d p) const;
};

// Returns the maps of a CV_8UC3 picture, of whose pixels those in the box are looked at.
EdgeMaps edge_maps(const cv::Mat& bgr, const cv::Rect2d& box);

// Returns the picture with equal ratios of light as equal differences, down to some grey levels.
cv::Mat lifted(const cv::Mat& bgr);

}  // namespace potshadow

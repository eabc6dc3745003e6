// SPDX-License-Identifier: MIT
// Which pixels of a reduced picture are the vessel's, told by colour from a box and strokes.
#pragma once

#include <opencv2/core/mat.hpp>
#include <opencv2/core/types.hpp>

#include "core/result.h"
#include "outline/trace.h"

// Model: colours of vessel and of surroundings are two mixtures of Gaussians, neighbours that look
// alike belong together (graph cut). Outside the box is surroundings. The largest piece that is
// left, its holes filled, is the vessel.
// Frames: a place p of the picture lies at (p + 0.5) / scale - 0.5 - origin in the mask.
namespace potshadow {

struct VesselMask {
  cv::Mat bgr;               // CV_8UC3, the reduced picture around the box
  cv::Mat inside;            // CV_8U, 255 on the vessel
  cv::Mat labels;            // CV_8U, 255 where colours say vessel: with holes and other pieces
  cv::Rect2d box;            // the request's, in pixels of the mask
  double scale = 1.0;        // pixels of the picture to one of the mask, >= 1
  cv::Point2d origin_px;     // place in the picture of the mask's left upper corner
  double second_part = 0.0;  // area of the largest other piece in the box, over the vessel's

  PhotoPoint to_photo(cv::Point2d p) const {
    return {origin_px.x + (p.x + 0.5) * scale - 0.5, origin_px.y + (p.y + 0.5) * scale - 0.5};
  }
  cv::Point2d from_photo(PhotoPoint p) const {
    return {(p.x_px - origin_px.x + 0.5) / scale - 0.5, (p.y_px - origin_px.y + 0.5) / scale - 0.5};
  }
};

// Returns the reduced picture around the box, with nothing inside yet. Requires as below.
VesselMask reduced_picture(const cv::Mat& bgr, const cv::Rect2d& box);

// Returns the mask. Requires a box with area inside the picture. Fails with kCannotBeAnswered where
// nothing in the box stands out from what is outside. Throws what OpenCV throws.
Result<VesselMask> vessel_mask(const cv::Mat& bgr, const cv::Rect2d& box,
                               const std::vector<TraceStroke>& strokes);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The vessel's rough contour as a closed line, and the axis it is nearly mirrored in.
#pragma once

#include <opencv2/core/types.hpp>
#include <vector>

#include "outline/edge_path.h"
#include "outline/vessel_mask.h"

// Frames: pixels of the picture; (u, v) is a place across the axis (to the right) and down along
// it.
namespace potshadow {

struct Axis {
  cv::Point2d at;              // on the axis
  cv::Point2d down{0.0, 1.0};  // unit length
  bool seen = true;            // both sides were seen; otherwise it is only a guess
  cv::Point2d right() const { return {down.y, -down.x}; }
  cv::Point2d to_axis(cv::Point2d p) const { return {(p - at).dot(right()), (p - at).dot(down)}; }
  cv::Point2d from_axis(cv::Point2d uv) const { return at + uv.x * right() + uv.y * down; }
};

// Returns the mask's outer contour, rounded by some pixels of the mask, from its lowest place on
// round by the left to the top and the right; clockwise on the picture. Empty for an empty mask.
SearchLine rough_contour(const VesselMask& mask, double reach_mask_px);

// Returns the line through `points` (closed or not) with outward normals; `clockwise` as seen on
// the picture, vessel to the right of the way. Smoothed by `smooth` points each way.
SearchLine line_through(const std::vector<cv::Point2d>& points, bool closed, double smooth);

// Returns the axis within 15 degrees of upright about which the middles between both sides spread
// least. Heights where either side is `cut` off by the picture count for nothing; where that leaves
// too few the axis is upright on the cut side, and not `seen`. Requires equally long lists.
Axis axis_of(const std::vector<cv::Point2d>& contour, const std::vector<bool>& cut);

// Returns what part of the mask its mirror image covers as well: of both together, 0 to 1. What
// would be mirrored out of the picture counts for nothing.
double mirrored_part(const VesselMask& mask, cv::Size picture, const Axis& axis);

}  // namespace potshadow

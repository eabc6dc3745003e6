// SPDX-License-Identifier: MIT
// The likeliest outline that is its own mirror image, for one axis.
#pragma once

#include <cmath>
#include <opencv2/core/types.hpp>
#include <vector>

#include "outline/edge_maps.h"
#include "outline/mirror_image.h"
#include "outline/vessel_mask.h"

// Model: on a grid of heights v along the axis and half widths u, the outline is a way from the
// middle of the foot out and up to a rim, which is half an ellipse about the axis, or to the
// middle of a closed top. Each step costs where either side shows no edge across it, each turn
// costs, and so do rows and colours that are left out or taken in against the labels. Dynamic
// programming finds the cheapest way; ellipses of rims are tried one by one.
// Frames: grid (u, v) lies at u to the right of the axis and `top` + v along it, in pixels of the
// mask.
namespace potshadow {

// The axis itself is no outline: so near it the way leads straight out or in.
inline constexpr int kNearAxisPx = 6;

struct HalfOutline {
  double cost = INFINITY;       // none was found
  std::vector<cv::Point> path;  // (u, v) on the grid, from the foot to the rim
  double support = 0.0;         // part of the path where both sides show an edge
};

// Returns the outline on a grid of `size`. Slow: a tenth of a second.
HalfOutline half_outline(const VesselMask& mask, const EdgeMaps& maps, const MirrorImage& image,
                         double top, cv::Size size);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Where a rim's front lies when its back is too short to say: the scan for it.
#pragma once

#include <opencv2/core/mat.hpp>
#include <optional>
#include <vector>

#include "outline/arc.h"
#include "outline/contour.h"

// Model: a short run of the back fixes where the top of the rim's ellipse lies, but neither how
// wide nor how high the ellipse is. The outline ends where the rim does, so its half width there is
// about the ellipse's; for each width and height there is one front. The one that shows an edge all
// along, and whose back fits the run, is the likeliest: bands and marks of the hand that runs
// through neither all of it nor where the back says are passed over.
// Frames: (u, v) of contour.h; the picture in pixels. Failure: none where no front stands out.
namespace potshadow {

// Half widths of the outline near the rim: the narrower and the wider side's.
struct HalfWidths {
  double narrow_px = 0.0;
  double wide_px = 0.0;
};

// Returns the ellipse of the likeliest front of a rim whose `back` are the places of its back; it
// stands upright on the axis. Requires a place or more. Slow: some 50 ms.
std::optional<Arc> scanned_lip(const cv::Mat& bgr, const Axis& axis,
                               const std::vector<cv::Point2d>& back, HalfWidths widths);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The second pass of tracing: edges where an estimate has them; see trace.h for the model.
#pragma once

#include <opencv2/core/mat.hpp>
#include <opencv2/core/types.hpp>

#include "outline/trace.h"

// Model: the edge lies within some of the predicted line's deviations, half of its 95 % band's half
// width each. The lines themselves tell which side of them is vessel. Where a class of edge runs
// into another one, and where the edge that is seen disagrees with the line, nothing is marked.
namespace potshadow {

// Requires request.predicted not to be empty, and a box with area inside the picture. Fails as
// trace_vessel. Throws what OpenCV throws.
Result<Trace> second_pass(const cv::Mat& bgr, const cv::Rect2d& box, const TraceRequest& request,
                          const TraceWatch& watch);

}  // namespace potshadow

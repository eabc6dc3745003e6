// SPDX-License-Identifier: MIT
// The first pass of tracing: from a box and strokes to the marks; see trace.h for the model.
#pragma once

#include <opencv2/core/mat.hpp>
#include <opencv2/core/types.hpp>

#include "outline/trace.h"

namespace potshadow {

// Detail of the problem that hardly any clear edge was found.
inline constexpr const char* kNotClear = "no clear edge";

// Requires a box with area inside the picture. Fails as trace_vessel. Throws what OpenCV throws.
Result<Trace> first_pass(const cv::Mat& bgr, const cv::Rect2d& box, const TraceRequest& request,
                         const TraceWatch& watch);

// What a stopped work returns.
Problem stopped();

}  // namespace potshadow

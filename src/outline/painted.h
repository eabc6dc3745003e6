// SPDX-License-Identifier: MIT
// Strokes overrule edges: what was painted as not vessel carries no marks.
#pragma once

#include <opencv2/core/mat.hpp>
#include <opencv2/core/types.hpp>

#include "outline/trace.h"

namespace potshadow {

// Takes out the marks that lie on a stroke of what is not vessel, and those whose inner side has
// the colours of such strokes, and adds them to the doubtful stretches. Without such strokes it
// does nothing; with them it cuts the picture anew. Requires a box with area inside the picture.
// Throws what OpenCV throws.
void leave_out_painted(const cv::Mat& bgr, const cv::Rect2d& box,
                       const std::vector<TraceStroke>& strokes, Trace& trace);

}  // namespace potshadow

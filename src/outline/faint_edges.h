// SPDX-License-Identifier: MIT
// Edges too faint to be seen over a short stretch, where their line is known.
#pragma once

#include <cstddef>
#include <opencv2/core/mat.hpp>
#include <opencv2/core/types.hpp>
#include <vector>

#include "outline/edge_marks.h"
#include "outline/edge_path.h"

// Model: a mark's window is short, since an edge bends. Where the bend is known the window can be
// several times as long, and noise and texture average out: the line tells how the edge bends, and
// the good edges to both sides how far it lies off that line. Windows longer than the marks are
// apart share pixels, so that each mark's variance grows by as much as its window overlaps others.
// Frames: pixels of the picture.
namespace potshadow {

// Returns the line's place nearest to `at`. Requires a line with places.
std::size_t nearest_place(const SearchLine& line, cv::Point2d at);

// Fits the doubtful ones of `nodes`, which lie along `line` with even steps of `step_px`, anew.
// Those where an edge is seen clearly are good from then on; the others stay as they are.
void fit_faint(const cv::Mat& bgr, const SearchLine& line, double step_px, const MarkPlan& plan,
               std::vector<EdgeNode>& nodes);

}  // namespace potshadow

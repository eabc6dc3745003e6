// SPDX-License-Identifier: MIT
// The front of the lip's outer edge, where it lies before the vessel itself.
#pragma once

#include <opencv2/core/mat.hpp>
#include <vector>

#include "outline/arc.h"
#include "outline/contour.h"
#include "outline/edge_marks.h"
#include "outline/lip_scan.h"

// Model: the back of the outer edge is part of the silhouette, so there it cannot be taken for the
// inner one. Its ellipse says where the front of the same edge lies, and how surely. Of the edges
// there the run that lies on one ellipse with the back is the outer edge's front; the inner edge
// nests inside that ellipse, a painted band has another one. Where the back is too short to say,
// the front is scanned for (lip_scan.h), and of two edges about as clear the outer one taken.
// Frames: arcs in (u, v) of contour.h, nodes in pixels of the picture.
namespace potshadow {

struct LipFront {
  Arc arc;                      // through back and front
  std::vector<EdgeNode> nodes;  // of the front, from left to right; empty where it is not told
};

// `back` are the fitted nodes of the rim's back, `arc` the ellipse through them; `widths` the
// outline's near the rim.
LipFront lip_front(const cv::Mat& bgr, const VesselMask& mask, const Axis& axis, const Arc& arc,
                   const std::vector<EdgeNode>& back, HalfWidths widths, const MarkPlan& plan);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Where a contour's left and right are not mirror images.
#pragma once

#include <vector>

#include "outline/contour.h"
#include "outline/edge_marks.h"
#include "outline/mirror_image.h"

namespace potshadow {

// Returns the mirror in which the nodes right of the axis lie best on the images of those left of
// it: place, lean and focal length by robust least squares from a rough axis. Pixels of the
// picture. Requires a closed contour in the order of rough_contour.
MirrorImage fitted_mirror(const std::vector<EdgeNode>& nodes, const Axis& axis, cv::Point2d middle,
                          double focal);

// Doubts the nodes whose mirror images lie off the other side's contour: one of both is something
// else's edge, and it is not told which. Doubts nodes, too, whose inside and outside look alike
// while they do not on the other side: something stands in front.
void doubt_unlike(const MirrorImage& mirror, std::vector<EdgeNode>& nodes);

}  // namespace potshadow

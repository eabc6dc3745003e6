// SPDX-License-Identifier: MIT
// A vessel's rough outline that is the same on both sides of an upright axis.
#pragma once

#include "outline/contour.h"
#include "outline/mirror_image.h"
#include "outline/vessel_mask.h"

// Model: reflections, neighbours and things in front disturb one side of a vessel, seldom both at
// the same height. So the axis is where clear edges have the most mirror images, and the outline is
// the cheapest way from the axis above the rim out, down and back to the axis below the foot (of
// nine directions, never upwards; dynamic programming). A step costs little where its own edge is
// clear on both sides, more where it is so on one; turns cost, and so does what the colours' labels
// say is vessel and lies outside, or the other way round. Those who draw a box leave little room
// above and below: rows that are left out farther in cost too. Frames: pixels of the mask.
namespace potshadow {

struct Mirrored {
  bool found = false;
  double support = 0.0;  // the part of the outline with a clear edge on both sides, 0 to 1
};

// Replaces mask.inside by the mirrored outline. `middle` is where the camera looks, `focal` its
// rough focal length. Leaves it as it is, and finds nothing, where it has no two sides (the box
// touches the picture's left or right edge) or no height of it stands out.
Mirrored mirror_outline(VesselMask& mask, cv::Point2d middle, double focal);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A vessel's rough outline that is the same on both sides of an upright axis.
#pragma once

#include "outline/contour.h"
#include "outline/vessel_mask.h"

// Model: reflections, neighbours and things in front disturb one side of a vessel, seldom both at
// the same height. So the axis is where steep edges have the most mirror images, and the half width
// at each height is where both sides have edges, with what is inward labelled vessel and what is
// outward labelled surroundings by the mask. Half widths at neighbouring heights are alike (dynamic
// programming; the sum of costs is least). A half width of nothing is above the rim or below the
// foot. Frames: pixels of the mask.
namespace potshadow {

struct Mirrored {
  bool found = false;
  double support = 0.0;  // the part of the outline with an edge on both sides, 0 to 1
};

// Replaces mask.inside by the mirrored outline. Leaves it as it is, and finds nothing, where it has
// no two sides (the box touches the picture's left or right edge) or no height of it stands out.
Mirrored mirror_outline(VesselMask& mask);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The strongest edge near a point of a picture, to a fraction of a pixel.
#pragma once

#include <optional>

#include "core/units.h"
#include "photo/decode.h"

// Model: brightness, smoothed by a Gaussian of one pixel, changes fastest across an edge (Canny, "A
// computational approach to edge detection", 1986). Among the places within reach that are steeper
// than both neighbours across the edge the steepest wins, nearness counting a little. Of its edge
// the place nearest to the mark is taken and refined along the gradient by a parabola through three
// samples. Pixels: (0, 0) at the centre of
// the top-left one.
//
// Noise: what is steep by chance is told from the less steep quarter of the neighbourhood, in which
// no edge lies unless it is full of them.
namespace potshadow {

struct EdgeAt {
  PhotoPoint at;
  double direction_rad = 0.0;  // of the edge itself, from x towards y, in [0, pi)
  double strength = 0.0;       // grey levels (0-255) a pixel
};

// A longer reach counts as this one.
inline constexpr Px kMostSnapReach{200.0};

// Returns the strongest edge within `reach` of `near`, or nothing where there is none above the
// noise (a flat place, outside the picture), or where `reach` is not above 0. Fast: below a
// millisecond for a reach of 20 px; grows with its square.
std::optional<EdgeAt> snap_to_edge(const Picture& picture, PhotoPoint near, Px reach);

// Returns the edge's direction and strength at the point itself, for the magnifier; nothing outside
// the picture or where nothing changes. Its place is the point as it was given. Fast.
std::optional<EdgeAt> edge_at(const Picture& picture, PhotoPoint at);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Pictures of compared pots: photographs over each other and beside each other, and a series in
// small.
#pragma once

#include "desktop/window/frame.h"

namespace potshadow {

// Draws the replica's photograph over the original's as the original's camera would have seen it,
// with how it lies over it: through each other, or wiped at a place that can be dragged. Requires
// the comparison's photographs.
void photos_over(Frame& frame);

// Draws both with their fitted outlines, as far off as their axes.
void photos_beside(Frame& frame);

// Draws all of a series in small, on paper. Requires a series.
void series_drawing(Frame& frame);

}  // namespace potshadow

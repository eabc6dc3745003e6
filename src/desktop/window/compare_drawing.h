// SPDX-License-Identifier: MIT
// Two outlines over each other, as made and brought to one size, and the gap between them.
#pragma once

#include "desktop/canvas/photo_transform.h"
#include "desktop/session/compare_works.h"
#include "desktop/window/frame.h"
#include "project/compare_report.h"

namespace potshadow {

// Draws both outlines as made, then the original brought to the replica's size, then the gap by
// height: its own interval as a band, between thin lines the one that holds all heights together.
// What differs beyond doubt is heavy. The gap that is pointed at is lit and said. Requires a shape.
void compare_drawing(Frame& frame, const VesselComparison& comparison, ScreenBox box);

// Returns the height in window pixels that it needs to fill the width; at most `most`.
double compare_drawing_height(const Frame& frame, const VesselComparison& comparison, double width,
                              double most);

// Draws both in section beside each other at one scale, standing on one line: left the cut wall,
// right the outside. A wall that is not known is a line. Requires both profiles.
void compared_sections(Frame& frame, const ComparedWork& work, ScreenBox box);

// Returns the height that this needs to fill the width; at most `most`.
double compared_sections_height(const Frame& frame, const ComparedWork& work, double width,
                                double most);

}  // namespace potshadow

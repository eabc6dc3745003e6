// SPDX-License-Identifier: MIT
// The wet pot as it is to be built: cut wall on the left, coils on the right, in its cradle.
#pragma once

#include "clay/build_plan.h"
#include "desktop/canvas/photo_transform.h"
#include "desktop/window/frame.h"

namespace potshadow {

// Draws section and exterior as section_drawing.h does, with the coils' joints on the exterior, the
// cradle around the foot, and a wavy line where the wall may sag. Greyed where not `current`.
void plan_drawing(Frame& frame, const BuildPlan& plan, bool current, ScreenBox box);

// Returns the height in window pixels that the drawing needs to fill the width; at most `most`.
double plan_drawing_height(const Frame& frame, const BuildPlan& plan, double width, double most);

}  // namespace potshadow

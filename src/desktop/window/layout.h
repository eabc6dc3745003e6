// SPDX-License-Identifier: MIT
// Where everything lies in the window: steps, photograph, figures, and the line at the foot.
#pragma once

#include "desktop/canvas/photo_transform.h"
#include "desktop/window/frame.h"

namespace potshadow {

// Draws the whole window and returns where the photograph is shown.
ScreenBox draw_layout(Frame& frame);

// Returns the step that a newly opened project starts with: the first that misses something, else
// the sizes.
Step first_step(const Frame& frame);

// Tells the description what is shown (see description.h).
void tell_state(Frame& frame);

}  // namespace potshadow

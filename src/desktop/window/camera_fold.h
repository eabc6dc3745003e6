// SPDX-License-Identifier: MIT
// Measuring the camera that took the photograph, in the Photo step.
#pragma once

#include "desktop/window/frame.h"

namespace potshadow {

// Draws the fold: what is known of this camera, and how it is measured from pictures of a board.
void camera_fold(Frame& frame, const ProjectPhoto& photo);

}  // namespace potshadow

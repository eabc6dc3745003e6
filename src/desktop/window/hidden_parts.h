// SPDX-License-Identifier: MIT
// What of the vessel no photograph shows: its foot in a mount, its rim broken off.
#pragma once

#include "desktop/window/frame.h"

namespace potshadow {

// Draws the two ticks, and below each what may bound the hidden part.
void hidden_parts(Frame& frame);

}  // namespace potshadow

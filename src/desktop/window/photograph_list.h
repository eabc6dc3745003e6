// SPDX-License-Identifier: MIT
// The photographs of the vessel: which there are, which is shown, another one, one fewer.
#pragma once

#include <cstddef>

#include "desktop/window/frame.h"

namespace potshadow {

// Draws the list, and what can be done with it. Requires at least one photograph.
void photograph_list(Frame& frame);

// Shows the photograph so many places further on, round from the last to the first.
void show_next_photo(Frame& frame, int by);

}  // namespace potshadow

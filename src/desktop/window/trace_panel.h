// SPDX-License-Identifier: MIT
// The part of the Outline panel that has the outline found, and mends what was found.
#pragma once

#include "desktop/window/frame.h"

namespace potshadow {

void trace_panel(Frame& frame, const ProjectPhoto& photo);

}  // namespace potshadow

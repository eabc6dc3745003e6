// SPDX-License-Identifier: MIT
// Small drawings of where a reference can be, seen from the side.
#pragma once

#include <imgui.h>

#include "desktop/window/look.h"
#include "estimate/input.h"

namespace potshadow {

// Draws the shelf, the vessel on it and the reference before it, as seen from the side with the
// viewer on the left, into the box from `from` on; the pane too where the reference is on it. What
// is beside the vessel is drawn as the viewer sees it. Nothing fails; needs some 50 x 34 pixels to
// be read.
void place_drawing(ImDrawList& list, ImVec2 from, ImVec2 size, Place place, const Look& look);

}  // namespace potshadow

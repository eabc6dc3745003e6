// SPDX-License-Identifier: MIT
// The traced outline over the photograph: its marks, what was left out, the box, the brush.
#pragma once

#include <imgui.h>

#include "desktop/window/frame.h"

namespace potshadow {

// Traced marks that count as small dots in their kind's colour, fainter where they crowd; in the
// Outline step also the stretches that were left out, dashed, and the box. While painting, the
// strokes so far.
void draw_trace(Frame& frame, ImDrawList& list);

// The brush at the pointer, and the stroke that is being drawn.
void draw_brush(Frame& frame, ImDrawList& list);

}  // namespace potshadow

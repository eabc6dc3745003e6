// SPDX-License-Identifier: MIT
// The vessel drawn upright at true proportion: left half in section, right half from outside.
#pragma once

#include <imgui.h>

#include <optional>

#include "desktop/canvas/photo_transform.h"
#include "desktop/window/frame.h"

namespace potshadow {

// Draws the vessel of `measurement` into the box: cut wall on the left, exterior on the right, the
// centre line, the interval as a band, a scale bar, and lines for the sizes; that of
// state.canvas.lit_size is lit. Greyed where `current` is false. Returns the size at whose line
// the pointer is. Source of the convention: archaeological illustration, section on the left,
// exterior on the right (common practice, no source).
std::optional<SizeName> section_drawing(Frame& frame, const Measurement& measurement, bool current,
                                        ScreenBox box);

// Draws a bar of a round length: 1, 2 or 5 times a power of ten of the unit, at most a third of the
// width; `scale` is in window pixels a millimetre.
void draw_scale_bar(const Frame& frame, ImDrawList& list, LengthUnit unit, double scale, ImVec2 at,
                    double width, double opacity);

// Returns the height in window pixels that the drawing needs to fill the width; at most `most`.
double section_height(const Frame& frame, const Measurement& measurement, double width,
                      double most);

}  // namespace potshadow

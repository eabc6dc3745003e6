// SPDX-License-Identifier: MIT
// The vessel drawn upright at true proportion: left half in section, right half from outside.
#pragma once

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

// Returns the height in window pixels that the drawing needs to fill the width; at most `most`.
double section_height(const Frame& frame, const Measurement& measurement, double width,
                      double most);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The bar that says how large a drawing at another scale is.
#pragma once

#include "patterns/pattern.h"

// For this part only.
namespace potshadow::internal {

// Draws a bar of whole centimetres of the vessel, black and white in turn, at most 110 mm long on
// paper, the middle of its upper edge at `top`; figures stand below it.
void draw_scale_bar(Pattern& out, double scale, const PatternPoint& top);

}  // namespace potshadow::internal

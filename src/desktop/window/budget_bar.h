// SPDX-License-Identifier: MIT
// A small bar of what a size's doubt is made of, with its legend.
#pragma once

#include "desktop/window/frame.h"
#include "desktop/words/figures_words.h"

namespace potshadow {

// Draws the bar into the width that is left, and below it the sources that matter. Each piece has
// its own hatching, and the legend names them from left to right.
void budget_bar(Frame& frame, const MeasuredSize& size);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A pattern as it is drawn on paper.
#pragma once

#include <vector>

#include "patterns/pattern.h"
#include "sheets/drawing.h"

namespace potshadow {

// Returns the pattern drawn so that its (0, 0) lies at `origin` of the page: intervals light grey,
// then pictures, lines and words. It reads in black and white.
std::vector<Drawn> drawn_pattern(const Pattern& pattern, PagePoint origin);

}  // namespace potshadow

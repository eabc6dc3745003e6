// SPDX-License-Identifier: MIT
// A drawn page as pixels, for a look before it is printed.
#pragma once

#include <cstddef>
#include <vector>

#include "core/result.h"
#include "sheets/drawing.h"

namespace potshadow {

// Rows from the top, four bytes a pixel: blue, green, red, and an unused one.
struct PagePixels {
  int width_px = 0;
  int height_px = 0;
  std::vector<unsigned char> bytes;  // 4 * width_px * height_px
};

// No picture of a page has more pixels than this.
inline constexpr double kMostPagePixels = 64e6;

// Returns the page on white paper, drawn by the same code as the PDF, with that code's note on
// fonts. The place (x, y) in millimetres is x * px_per_mm pixels from the left side of the
// left-most pixel and y * px_per_mm from the upper side of the topmost; a broken pixel at the right
// or the lower side is kept whole. Requires `px_per_mm` > 0. Fails with kBadValue for a picture of
// more than kMostPagePixels or without any, or 32767 along a side; kCannotBeAnswered where no font
// is found or memory runs out. Slow: some 10 ms a page.
Result<PagePixels> page_picture(const PageDrawing& page, double px_per_mm);

}  // namespace potshadow

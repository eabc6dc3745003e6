// SPDX-License-Identifier: MIT
// A pattern by itself as pixels, on white, for a screen or a letter.
#pragma once

#include <string>

#include "core/result.h"
#include "patterns/pattern.h"
#include "sheets/page_picture.h"

namespace potshadow {

// Returns the pattern with a narrow margin, its longer side `long_px` pixels. Requires long_px > 0.
// Fails as page_picture.
Result<PagePixels> pattern_picture(const Pattern& pattern, int long_px);

// Returns it as the bytes of a PNG file, its longer side 2400 pixels. Fails as that, and with
// kCannotBeAnswered where memory runs out. Source of the format: PNG specification, 3rd edition.
Result<std::string> pattern_png(const Pattern& pattern);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// An unrolled picture as a PNG that knows how large it is.
#pragma once

#include <string>

#include "unroll/unroll.h"

namespace potshadow {

// Returns the file's bytes. Its pixels to the metre are stated, so that programs print it at true
// size. Source: PNG specification, 3rd edition, 11.3.4.3 (pHYs) and annex D (CRC).
std::string png_of(const Unrolled& picture);

}  // namespace potshadow

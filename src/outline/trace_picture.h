// SPDX-License-Identifier: MIT
// A photograph with the traced marks drawn over it, to look at.
#pragma once

#include <string>

#include "core/result.h"
#include "outline/trace.h"
#include "photo/decode.h"

// Marks are drawn in the colours they have in the window (a palette that colour-blind eyes can
// tell apart: Okabe & Ito 2008), each with its outline's own shape of dot; doubtful stretches are
// dashed.
namespace potshadow {

// Returns the picture as a PNG file, reduced to at most 2,400 pixels on its longer side. Fails with
// kBadValue for an empty picture, kFileTooLarge where memory runs out. Slow: about a second for 12
// megapixels.
Result<std::string> trace_picture_png(const Picture& picture, const Trace& trace);

}  // namespace potshadow

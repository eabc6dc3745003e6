// SPDX-License-Identifier: MIT
// Photographs of two pots beside each other and over each other.
#pragma once

#include <string>

#include "estimate/overlay.h"
#include "patterns/pattern.h"
#include "unroll/unroll.h"

namespace potshadow {

// A pot, as one photograph shows it.
struct ComparedPhoto {
  std::string title;
  UnrollPhoto photo;
  Overlay overlay;  // the fitted outline, in the photograph's pixels
  PaintedFace face;
  double height_mm = 0.0;
  double factor = 1.0;  // from its own size to the one that both are compared at
};

// Returns both photographs about their pots side by side, with the fitted outlines, at one scale:
// as far off as their axes both pots are shown so many times smaller. 165 mm wide.
Pattern photos_side_by_side(const ComparedPhoto& original, const ComparedPhoto& replica);

// Returns a PNG of the original's photograph about its pot with the replica over it as the same
// camera would have seen it: both half through each other or, with `wipe`, the replica right of the
// axis.
std::string photo_over_png(const ComparedPhoto& original, const ComparedPhoto& replica, bool wipe);

}  // namespace potshadow

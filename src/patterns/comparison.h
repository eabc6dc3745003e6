// SPDX-License-Identifier: MIT
// Two outlines drawn over each other, and the gap between them by height.
#pragma once

#include <string>
#include <vector>

#include "core/units.h"
#include "patterns/pattern.h"

// The original is drawn solid and the replica dashed, both right of the centre line: as made, and
// once the original is brought to the replica's size. Beside the latter, at the same height, stands
// the gap: to the right the replica is farther out. Its own 95 % interval is the grey band, the
// one that holds all heights at once is between the faint lines; where the gap leaves them it is
// drawn heavy. Frame: y up, 0 on the bench, at `scale`.
namespace potshadow {

struct ComparedGap {
  double height_mm = 0.0;    // on the original at the replica's size
  double gap_mm = 0.0;       // of the replica outwards
  double half_mm = 0.0;      // half its own 95 % interval
  double together_mm = 0.0;  // half the band that holds all heights at once
  bool differs = false;
};

struct ComparedOutlines {
  std::vector<ProfilePoint> original;  // base first, fired size
  std::vector<ProfilePoint> replica;
  std::vector<ProfilePoint> matched;  // the original at the replica's size
  double factor = 1.0;                // by which it was made so
  std::vector<ComparedGap> gaps;
};

// Returns the drawing. Requires two rows of each outline and a scale > 0.
Pattern compared_outlines(const ComparedOutlines& outlines, double scale);

// Returns how wide the drawing is.
double compared_width_mm(const ComparedOutlines& outlines, double scale);

}  // namespace potshadow

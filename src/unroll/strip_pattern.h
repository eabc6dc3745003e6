// SPDX-License-Identifier: MIT
// An unrolled strip as a piece to print, cut out and wrap round the pot.
#pragma once

#include <string>
#include <vector>

#include "patterns/pattern.h"
#include "unroll/unroll.h"

// The piece has the strip's edge to cut along, the picture, the front's centre line, the borders
// between repeats of the motif, of which one is centred on the front, and lines at heights that
// were asked for. Frame of the development: y up, (0, 0) on the lower edge at the front.
namespace potshadow {

struct StripWords {
  std::string name;                  // "Strip 2"
  std::vector<std::string> about{};  // lines below the piece
};

// Returns the piece. `repeats` 0 draws no borders. `level_mm`: places along the wall, at the
// original's size, to draw a line at.
Pattern strip_pattern(const Development& flat, const Unrolled& picture, int repeats,
                      const std::vector<double>& level_mm, const StripWords& words);

}  // namespace potshadow

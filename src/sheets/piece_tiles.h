// SPDX-License-Identifier: MIT
// A piece larger than a page, seen through one window a page; for this part only.
#pragma once

#include <string>
#include <vector>

#include "patterns/pattern.h"
#include "sheets/page_blocks.h"
#include "sheets/tiling.h"

namespace potshadow {

struct PieceTile {
  MapCell cell;      // of the piece, what the window shows
  PageBox window;    // on the page
  PagePoint origin;  // of the piece, on the page
  std::vector<RegistrationMark> marks{};
  std::vector<Stroke> trims{};
  std::vector<std::string> joins{};  // "A1 (a, b)"
};

struct TiledPiece {
  std::vector<PieceTile> tiles;                     // by rows from the top
  std::vector<std::vector<ProfilePoint>> outlines;  // for the page map
};

// Returns the tiles of a piece whose box is `box`; those that would show nothing are left out as
// long as the rest hangs together.
TiledPiece tiled_piece(const Pattern& piece, const PatternBox& box, const PageBox& window);

}  // namespace potshadow

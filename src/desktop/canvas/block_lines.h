// SPDX-License-Identifier: MIT
// The lines of a block of tiles as they run over a photograph, from its four corners.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "core/units.h"

namespace potshadow {

// Returns the lines between the tiles of a block, its outer edges left out: first those that part
// its columns, then those that part its rows. Corners lower left, lower right, upper right, upper
// left; seen through a lens without distortion. Empty unless there are four corners of a
// quadrilateral that is convex, and at most kMostTiles a side: more could not be told apart.
// Source: Heckbert, "Fundamentals of Texture Mapping and Image Warping", 1989, 2.2.3 (square to
// quadrilateral).
std::vector<std::array<PhotoPoint, 2>> block_lines(std::span<const PhotoPoint> corners, int columns,
                                                   int rows);

inline constexpr int kMostTiles = 100;

}  // namespace potshadow

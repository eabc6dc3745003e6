// SPDX-License-Identifier: MIT
// A tile floor or wall as it lies on a photograph, from the four corners of a block of its tiles.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "core/units.h"
#include "desktop/document/document.h"

// Corners lower left, lower right, upper right, upper left; seen through a lens without distortion.
// They must be four, of a quadrilateral that is convex; otherwise nothing is returned. Source:
// Heckbert, "Fundamentals of Texture Mapping and Image Warping", 1989, 2.2.3 (square to
// quadrilateral).
namespace potshadow {

// Returns the lines between the tiles of a block, its outer edges left out: first those that part
// its columns, then those that part its rows. Empty above kMostTiles a side: more could not be told
// apart.
std::vector<std::array<PhotoPoint, 2>> block_lines(std::span<const PhotoPoint> corners, int columns,
                                                   int rows);

inline constexpr int kMostTiles = 100;

// Returns where the crossing of the floor's lines lies on the photograph, in the block or out of
// it. Nothing for one that the camera cannot see: beyond the horizon.
std::optional<PhotoPoint> crossing_at(std::span<const PhotoPoint> corners, int columns, int rows,
                                      GridPlace place);

// Returns the crossing that lies nearest to `at` on the floor itself; nothing beyond its horizon,
// or farther off than kFarthestCrossing lines.
std::optional<GridPlace> crossing_near(std::span<const PhotoPoint> corners, int columns, int rows,
                                       PhotoPoint at);

inline constexpr int kFarthestCrossing = 1000;

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Corners where the straight edges of a card would meet, from points on its edges.
#pragma once

#include <array>
#include <optional>
#include <span>

#include "core/units.h"

namespace potshadow {

// Returns the corners of a quadrilateral from two points on each edge, in the order lower, right,
// upper, left edge: lower left, lower right, upper right, upper left. Cards have rounded corners,
// so their true corners cannot be marked themselves. Nothing unless there are eight points whose
// edges meet in four corners of a quadrilateral that does not cross itself.
std::optional<std::array<PhotoPoint, 4>> corners_of_edges(std::span<const PhotoPoint> points);

}  // namespace potshadow

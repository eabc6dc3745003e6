// SPDX-License-Identifier: MIT
// Looks over everything of known size in a photograph.
#pragma once

#include "estimate/input.h"
#include "estimate/mark_checks.h"

// Internal to `estimate`. Sizes that cannot be, places out of reach, corners that are crossed,
// collinear, edge-on or in the wrong order, discs whose edge is no ellipse, blocks of squares that
// are none, a neighbour that is the vessel itself.
namespace potshadow::internal {

inline constexpr std::size_t kLeastEdgeMarks = 5;  // of a disc

// Finds what is wrong with the first reference, known size or distance that cannot be used;
// neighbours apart.
Finding check_references(const PhotoInput& photo, bool round_base);

// Finds what is wrong with the first neighbour that cannot be used. Requires the vessel's own marks
// to be looked over.
Finding check_neighbours(const PhotoInput& photo);

}  // namespace potshadow::internal

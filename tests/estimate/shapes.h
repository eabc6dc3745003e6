// SPDX-License-Identifier: MIT
// Vessels from formulas, as dense profiles, base first.
#pragma once

#include <vector>

#include "core/units.h"

namespace potshadow::testing {

// A jar with a belly and a flared rim, 190 mm high, from smooth functions of the height.
std::vector<ProfilePoint> smooth_jar();

// The body of the teapot known from computer graphics (M. Newell, 1975): Bezier arcs of its outer
// wall, control points from memory, foot first, scaled to 40 mm a unit.
std::vector<ProfilePoint> teapot_body();

// A sphere of radius 100 mm on the shelf, open at the top.
std::vector<ProfilePoint> open_sphere();

}  // namespace potshadow::testing

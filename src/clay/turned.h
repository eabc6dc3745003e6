// SPDX-License-Identifier: MIT
// Volumes of what is turned about the pot's axis, by Pappus.
#pragma once

#include <vector>

#include "core/units.h"

namespace potshadow {

// A closed figure in the half-plane through the axis.
struct TurnedFigure {
  double area_mm2 = 0.0;    // of the figure itself
  double volume_mm3 = 0.0;  // of the solid it turns to: 2 pi times its first moment about the axis
};

// Returns both for a polygon, its last point joined to its first; positive where it runs
// anticlockwise (radius to the right, height up). Exact. Source: Pappus of Alexandria; the moment
// of a polygon from its corners.
TurnedFigure turned(const std::vector<ProfilePoint>& polygon);

// Returns how far from the axis the middle of a figure lies: volume / (2 pi area), 0 for no area.
double middle_radius(const TurnedFigure& figure);

}  // namespace potshadow

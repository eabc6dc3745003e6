// SPDX-License-Identifier: MIT
// The wall laid flat: strips that wrap round the pot, and the whole face by angle and height.
#pragma once

#include <cmath>
#include <vector>

#include "core/result.h"
#include "unroll/surface.h"

// Model: a strip is the frustum of a cone between two places of the wall, cut open at the back and
// laid flat: a piece of a ring whose arcs have the radii r / |k| of its edges and which spans the
// angle 2 pi |k|, k = (upper radius - lower radius) / slant being the sine of half the cone's
// opening (any text on sheet metal work). Where k is 0 it is a rectangle. Paper cannot follow a
// wall that bulges, so the strip touches the wall at its two edges and misses it between them by
// the `bulge`. Frame: x to the right and y UP, millimetres at the size to make, (0, 0) on the lower
// edge at the front; x grows with azimuth, as one sees it from outside.
namespace potshadow {

// How many times larger than the original the pot is made.
struct Enlargement {
  double across = 1.0;
  double upright = 1.0;
};

struct FlatPoint {
  double x_mm = 0.0;
  double y_mm = 0.0;
};

// A place of the face at the original's size.
struct FaceSpot {
  double azimuth_rad = 0.0;
  double along_mm = 0.0;
};

struct Development {
  double front_rad = 0.0;      // azimuth of the line x = 0
  double half_turn_rad = 0.0;  // how far it goes to either side, up to pi
  double low_along_mm = 0.0;   // of its edges on the face, at the original's size
  double high_along_mm = 0.0;
  double low_radius_mm = 0.0;  // of its edges on the pot to make
  double high_radius_mm = 0.0;
  double slant_mm = 0.0;  // from edge to edge, at the size to make
  double bulge_mm = 0.0;  // how far the wall leaves it at most, likewise

  double sine() const { return (high_radius_mm - low_radius_mm) / slant_mm; }
  // Radius of an edge's arc and the angle it spans; no arc where the strip is straight.
  double low_arc_mm() const { return low_radius_mm / std::abs(sine()); }
  double high_arc_mm() const { return high_radius_mm / std::abs(sine()); }
  double angle_rad() const { return 2.0 * half_turn_rad * std::abs(sine()); }

  // Returns the flat place of a spot, and the spot of a flat place; the latter may lie outside.
  FlatPoint flat(const FaceSpot& spot) const;
  FaceSpot spot(const FlatPoint& at) const;
  bool holds(const FaceSpot& spot) const;

  // Returns its edge as a closed polygon, anticlockwise from the lower left corner, within
  // `tolerance_mm` of the arcs.
  std::vector<FlatPoint> outline(double tolerance_mm) const;
};

// Returns the whole face between two places as one picture: as wide as the pot's widest girth and
// as high as the wall is long. `made` makes the size to make of the original's.
Development whole_face(const PaintedFace& face, const Enlargement& made, double front_rad);

// Returns the strip between two places of the face. Fails with kBadValue where they are less than a
// millimetre apart or the strip would be a flat disc's middle.
Result<Development> strip_between(const PaintedFace& face, double low_along_mm,
                                  double high_along_mm, const Enlargement& made, double front_rad);

// Returns as few strips as cover the face with a bulge of at most `most_bulge_mm`, base first.
std::vector<Development> strips_over(const PaintedFace& face, const Enlargement& made,
                                     double front_rad, double most_bulge_mm);

}  // namespace potshadow

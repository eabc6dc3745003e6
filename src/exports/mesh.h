// SPDX-License-Identifier: MIT
// Closed surfaces of flat facets: solids turned about the vessel's axis, and plates.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "core/result.h"
#include "core/units.h"
#include "patterns/pattern.h"

// Frame: the vessel's, in millimetres; a plate lies in x and y, from z = 0 up. Facets run
// anticlockwise seen from outside. Every edge belongs to two facets, which run along it in opposite
// ways: the surface is watertight.
namespace potshadow {

struct Mesh {
  std::vector<VesselPoint> points;
  std::vector<std::array<std::uint32_t, 3>> facets;
};

// More facets than this are of no use to a printer or a mill.
inline constexpr std::size_t kMostFacets = 4'000'000;

// Returns the solid that a closed polygon in the half-plane (radius, height) turns to. A circle
// becomes a polygon of the same area, so that the volume is that of the solid; no part of the
// surface lies farther than `tolerance_mm` from it. Requires a polygon that does not cross itself,
// three points or more, tolerance > 0. Fails with kBadValue beyond kMostFacets.
Result<Mesh> turned_solid(std::vector<ProfilePoint> polygon, double tolerance_mm);

// Returns the plate of a closed outline with holes in it. Requires that none crosses itself or
// another, and thick > 0. Fails with kCannotBeAnswered where the outline cannot be filled.
Result<Mesh> plate(const std::vector<PatternPoint>& outline,
                   const std::vector<std::vector<PatternPoint>>& holes, double thick_mm);

// Returns the volume inside in mm3. Exact for the facets.
double volume_mm3(const Mesh& mesh);

}  // namespace potshadow

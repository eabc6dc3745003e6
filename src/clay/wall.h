// SPDX-License-Identifier: MIT
// The wall of a pot to be built: its inner face, and how much clay lies where.
#pragma once

#include <cstddef>
#include <vector>

#include "clay/turned.h"
#include "core/result.h"
#include "core/units.h"
#include "vessel/profile.h"

// Model: the outer face is the profile, the inner one lies inside it by the wall's thickness along
// the normal. The thickness is the same everywhere, or changes evenly with height from foot to rim.
// A flat foot has a floor as thick as the wall there. The wall is a row of thin quadrilaterals,
// foot first, each turned about the axis by Pappus; their sum is the wall. Frame: the vessel's, in
// millimetres, at whatever stage the profile is given.
namespace potshadow {

struct WallThickness {
  double foot_mm = 0.0;
  double rim_mm = 0.0;
  friend bool operator==(const WallThickness&, const WallThickness&) = default;
};

struct WallStrip {
  double low_mm = 0.0;  // heights of its ends on the outer face
  double high_mm = 0.0;
  TurnedFigure figure;
};

struct Wall {
  std::vector<ProfilePoint> outer;  // points of the profile, foot first
  std::vector<ProfilePoint> inner;  // as many, one for each
  std::vector<WallStrip> strips;    // one less
  TurnedFigure floor;               // empty for a round base
  double capacity_mm3 = 0.0;        // inside, to the height of the rim
};

inline constexpr std::size_t kWallSteps = 2000;  // a strip is then a fraction of a millimetre

// Returns the wall. Fails with kBadValue: a thickness below a millimetre, a wall that is
// thicker than the vessel's radius (it names the height), or leaves no room inside.
Result<Wall> wall_of(const Profile& profile, const WallThickness& thickness);

// Returns the volume of floor and wall, in mm3.
double clay_volume(const Wall& wall);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The sizes a potter works with, read from a profile: eight of them, and the proportions.
#pragma once

#include <optional>
#include <vector>

#include "core/result.h"
#include "core/units.h"
#include "vessel/profile.h"

// Words (after Shepard, "Ceramics for the Archaeologist", 1956, from memory): the rim is the outer
// edge of the lip; the maximum is the widest place of the outer profile (the rim itself on an open
// bowl); the neck is the place where the wall stands in deepest between wider parts below and above
// (on a goblet, its stem). Heights are measured from the shelf. Capacity is to the brim, inside the
// wall.
namespace potshadow {

// Where on the curve a size was read; s in [0, 1].
struct ProfileFeature {
  double s = 0.0;
  double radius_mm = 0.0;
  double height_mm = 0.0;
};

struct Sizes {
  double height_mm = 0.0;
  double max_diameter_mm = 0.0;
  double height_of_max_mm = 0.0;
  std::optional<double> neck_diameter_mm;
  std::optional<double> height_of_neck_mm;
  double rim_diameter_mm = 0.0;
  std::optional<double> base_diameter_mm;  // none on a round-bottomed vessel

  ProfileFeature top;  // where the height was read
  ProfileFeature widest;
  std::optional<ProfileFeature> neck;
};

// How far the wall must stand out again above its narrowest place, as a part of the maximum
// diameter, for that place to be called a neck.
inline constexpr double kNeckProminence = 0.01;

// Returns the sizes of a profile.
Sizes sizes_of(const Profile& profile);

// Returns the volume in millilitres inside the wall, to the brim (the highest place of the
// profile), for a wall and floor of even thickness measured along the normal. Zero where the wall
// leaves no room. Requires wall >= 0. Error below 0.02 % for `slices` = 400.
// Source: Pappus for the slices; the inner surface is the outer one eroded by a ball of the wall's
// thickness.
double capacity_ml(const Profile& profile, Mm wall, int slices = 400);

// Returns the volume in millilitres of the solid turned by a polyline of frusta, base first,
// between its first and last point: pi h (r1^2 + r1 r2 + r2^2) / 3 each.
double frusta_volume_ml(const std::vector<ProfilePoint>& polyline);

// Which way a vessel opens; see shape_of.
enum class Opening { kOpen, kRestricted, kClosed };
enum class HeightClass { kPlate, kDish, kBowl, kJar };

struct Shape {
  HeightClass height_class = HeightClass::kJar;
  Opening opening = Opening::kOpen;
};

// Returns the trade's words for the proportions. Height classes: plate below 1/5 of the maximum
// diameter, dish to 1/3, bowl to 1, jar above (Rice, "Pottery Analysis", 1987, from memory); a neck
// below 3/4 or a mouth below 6/10 of the maximum makes a jar of any height (common practice, no
// source). Opening: rim as part of the maximum, 1 open, 0.9-1 restricted, below 0.9 closed
// (typology after Hartmann 2016).
Shape shape_of(const Sizes& sizes);

}  // namespace potshadow

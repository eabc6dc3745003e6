// SPDX-License-Identifier: MIT
// The profile's 95 % interval at the size to make, as a strip along the profile.
#pragma once

#include <vector>

#include "clay/shrinkage.h"
#include "core/result.h"
#include "core/units.h"

// Model: both sides of the interval lie along the profile's normal. The shrinkage moves a point
// along the ray from the centre of the base; what of that lies along the normal widens the strip.
// Where heights and diameters shrink by figures of their own, each moves it its own way.
namespace potshadow {

// One row of the profile's uncertainty, at fired size: at `height_mm` the outer surface lies at
// `radius_mm` with the standard deviation `sd_mm` along the profile's normal. From base to rim.
struct ProfileBandRow {
  double height_mm = 0.0;
  double radius_mm = 0.0;
  double sd_mm = 0.0;
  friend bool operator==(const ProfileBandRow&, const ProfileBandRow&) = default;
};

// A place on the outer face at the size to make.
struct BandPoint {
  ProfilePoint at;
  ProfilePoint normal;   // outward, of length 1
  double half_mm = 0.0;  // half the interval, along the normal
};

// Returns the interval of each row, enlarged for the clay; fewer where rows repeat, none for fewer
// than two. Fails with kBadValue: what is not finite, a negative uncertainty.
Result<std::vector<BandPoint>> band_points(const std::vector<ProfileBandRow>& fired,
                                           const TotalShrinkage& shrinkage);

// Returns the strip's closed outline: its outer side base first, then its inner side rim first;
// empty for no points. No radius is below 0.
std::vector<ProfilePoint> band_outline(const std::vector<BandPoint>& points);

}  // namespace potshadow

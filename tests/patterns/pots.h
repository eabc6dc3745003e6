// SPDX-License-Identifier: MIT
// Invented pots of straight walls, whose sizes are known without the program.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "patterns/pattern_kinds.h"

namespace potshadow::test {

// A profile along a straight line: a cubic whose control points are a third apart.
inline Profile straight(const ProfilePoint& base, const ProfilePoint& rim) {
  std::vector<ProfilePoint> controls;
  for (int i = 0; i <= 3; ++i) {
    const double t = i / 3.0;
    controls.push_back({base.radius_mm + t * (rim.radius_mm - base.radius_mm),
                        base.height_mm + t * (rim.height_mm - base.height_mm)});
  }
  const Result<Profile> profile = Profile::from_controls(controls);
  EXPECT_TRUE(profile.ok());
  return *profile;
}

inline Measured measured(double value, double half) {
  return {value, half / 1.96, value - half, value + half};
}

inline PatternVessel vessel_of(const Profile& fired, double percent = 0.0) {
  const auto shrinkage = TotalShrinkage::from_percent_of_wet(percent, 0.0);
  EXPECT_TRUE(shrinkage.ok());
  PatternVessel vessel{.fired = fired, .band = {}, .shrinkage = *shrinkage, .wall = {6.0, 6.0}};
  vessel.words = "Test pot · wet";
  return vessel;
}

// A beaker, 50 mm in radius at the foot and 80 at the rim, 120 high; fired.
inline PatternVessel beaker(double percent = 0.0) {
  PatternVessel vessel = vessel_of(straight({50.0, 0.0}, {80.0, 120.0}), percent);
  const double e = vessel.shrinkage.enlargement();
  vessel.features = {
      {FeaturePlace::kFoot, "foot", {}, measured(100.0 * e, 1.0)},
      {FeaturePlace::kRim, "rim, widest", measured(120.0 * e, 2.0), measured(160.0 * e, 1.5)}};
  return vessel;
}

// A jar with a belly, a neck and a flaring rim; what it measures is found by the program.
inline PatternVessel necked_jar(double percent = 0.0) {
  const std::vector<ProfilePoint> controls{{50, 0},    {75, 5},   {125, 60}, {130, 120},
                                           {110, 165}, {60, 190}, {56, 215}, {80, 235}};
  const Result<Profile> profile = Profile::from_controls(controls);
  EXPECT_TRUE(profile.ok());
  return vessel_of(*profile, percent);
}

}  // namespace potshadow::test

// SPDX-License-Identifier: MIT
// Which part of the outline a mark belongs to, where two parts meet.
#include "estimate/matching.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace potshadow::internal {
namespace {

constexpr double kEyeAzimuth = -std::numbers::pi / 2.0;

// A straight wall from one radius to another, 100 mm high.
Body cone(double foot_mm, double rim_mm) {
  Body body;
  constexpr int kControls = 13;
  for (int i = 0; i < kControls; ++i) {
    const double t = static_cast<double>(i) / (kControls - 1);
    body.controls.push_back(foot_mm + t * (rim_mm - foot_mm));
    body.controls.push_back(100.0 * t);
  }
  return body;
}

// The eye is 400 mm above the shelf and 800 mm away, and looks level.
Sight from_above() {
  Sight sight;
  sight.setting.camera_from_vessel_start << 1, 0, 0, 0, 0, -1, 0, 1, 0;
  sight.setting.focal_start_px = 2000.0;
  sight.pose[kDistanceMm] = 800.0;
  sight.pose[kEyeHeightMm] = 400.0;
  return sight;
}

// The pixel of a point at a radius, an azimuth and a height.
PhotoPoint seen(double radius_mm, double azimuth, double height_mm) {
  const double x = radius_mm * std::cos(azimuth);
  const double depth = 800.0 + radius_mm * std::sin(azimuth);
  return {2000.0 * x / depth, 2000.0 * (400.0 - height_mm) / depth};
}

// The azimuth at which the sight line touches the cone, the same all the way up: its normal (cos a,
// sin a, -slope) is square to the line to the eye, (-r cos a, -800 - r sin a, 400 - z).
double contact(double foot_mm, double rim_mm) {
  const double slope = (rim_mm - foot_mm) / 100.0;
  return -std::asin((foot_mm + 400.0 * slope) / 800.0);
}

// Of a wall that leans out, the outline goes from the contacts on to the front of the foot; what
// lies behind them of the foot is hidden by the wall, and no mark a little inside the outline may
// take it for the edge.
TEST(Matching, NoMarkNearTheFootTakesItsHiddenPart) {
  constexpr double kFootMm = 40.0;
  constexpr double kRimMm = 60.0;
  constexpr double kRefined = 0.01;  // of an azimuth that was found between two candidates
  const double touched = contact(kFootMm, kRimMm);
  ASSERT_LT(touched, 0.0);
  const Body body = cone(kFootMm, kRimMm);
  int on_foot = 0;
  int on_wall = 0;
  for (const double side : {-1.0, 1.0}) {
    for (double azimuth = touched - 0.3; azimuth < 0.3; azimuth += 0.01) {
      for (const double inside_mm : {0.0, 0.2, 0.5, 1.0, 2.0}) {
        PhotoPoint at = seen(kFootMm - inside_mm, azimuth, 0.0);
        at.x_px *= side;
        const MarkKind kind = side < 0.0 ? MarkKind::kLeft : MarkKind::kRight;
        const Match match = match_marks(from_above(), body, {{kind, 0, at}}).front();
        if (match.on_outline()) {
          ++on_wall;
          continue;
        }
        ++on_foot;
        // The same azimuth to the right of the picture, from -90 degrees at its nearest.
        double mirrored = match.azimuth_rad;
        if (side < 0.0) mirrored = 2.0 * kEyeAzimuth + 2.0 * std::numbers::pi - mirrored;
        EXPECT_LE(mirrored, touched + kRefined) << "azimuth " << azimuth << ", " << inside_mm;
      }
    }
  }
  EXPECT_GT(on_foot, 100);
  EXPECT_GT(on_wall, 100);
}

// Of a rim seen from above, the outline goes round its back.
TEST(Matching, NoMarkNearTheRimTakesItsFront) {
  constexpr double kFootMm = 60.0;
  constexpr double kRimMm = 50.0;
  constexpr double kRefined = 0.01;
  const double touched = contact(kFootMm, kRimMm);
  const Body body = cone(kFootMm, kRimMm);
  int on_rim = 0;
  for (double azimuth = touched - 0.3; azimuth < touched + 0.3; azimuth += 0.01) {
    for (const double inside_mm : {0.0, 0.5, 1.0}) {
      const PhotoPoint at = seen(kRimMm - inside_mm, azimuth, 100.0);
      const Match match = match_marks(from_above(), body, {{MarkKind::kRight, 0, at}}).front();
      if (match.on_outline()) continue;
      ++on_rim;
      EXPECT_GE(match.azimuth_rad, touched - kRefined) << "azimuth " << azimuth;
    }
  }
  EXPECT_GT(on_rim, 30);
}

}  // namespace
}  // namespace potshadow::internal

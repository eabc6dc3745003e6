// SPDX-License-Identifier: MIT
#include "estimate/sketch.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "estimate/placement.h"
#include "estimate/shelf.h"

namespace potshadow::internal {
namespace {

// A drum before a level camera: all that follows is by hand from similar triangles.
constexpr double kRadiusMm = 60.0;
constexpr double kDrumMm = 180.0;
constexpr double kDistanceOfAxisMm = 900.0;
constexpr double kEyeMm = 320.0;  // above the shelf
constexpr double kFocalPx = 2000.0;

constexpr double kExactMm = 1e-6;  // closed forms, over a few hundred operations
// The profile is a spline through groups of the outline's rays, and a known size is read off it.
constexpr double kSketchedMm = 1.0;
constexpr std::size_t kControls = 12;

const Eigen::Vector3d kUp(0.0, -1.0, 0.0);
const Lens<double> kLens{kFocalPx, 1000.0, 800.0, 0.0, 0.0};

// Where the camera has a point of the vessel frame.
PhotoPoint pixel(double x_mm, double y_mm, double z_mm) {
  const double depth = y_mm + kDistanceOfAxisMm;
  return {kLens.cx_px + kFocalPx * x_mm / depth, kLens.cy_px + kFocalPx * (kEyeMm - z_mm) / depth};
}

Marks drum() {
  Marks marks;
  for (int i = 0; i < 24; ++i) {
    const double a = 2.0 * std::numbers::pi * i / 24.0;
    marks.rim.push_back(pixel(kRadiusMm * std::cos(a), kRadiusMm * std::sin(a), kDrumMm));
  }
  // The front of the foot, between the places where sight lines touch it.
  const double touch = std::acos(kRadiusMm / kDistanceOfAxisMm);
  for (int i = -4; i <= 4; ++i) {
    const double a = -std::numbers::pi / 2.0 + 0.9 * touch * i / 4.0;
    marks.base.push_back(pixel(kRadiusMm * std::cos(a), kRadiusMm * std::sin(a), 0.0));
  }
  for (int i = 0; i <= 20; ++i) {
    const double z = kDrumMm * i / 20.0;
    const double x = kRadiusMm * std::sin(touch);
    const double y = -kRadiusMm * std::cos(touch);
    marks.left.push_back(pixel(-x, y, z));
    marks.right.push_back(pixel(x, y, z));
  }
  return marks;
}

FlatReference seat(Place place) {
  FlatReference seat;
  seat.place = place;
  return seat;
}

Flat length_of(double mm, Place place, PhotoPoint first, PhotoPoint second) {
  Flat flat;
  flat.kind = FlatKind::kLength;
  flat.seat = seat(place);
  const bool upright = place == Place::kStanding || place == Place::kLeaning;
  (upright ? flat.height_mm : flat.width_mm) = mm;
  flat.points = {{first, 0.0, 0.0}, {second, upright ? 0.0 : 1.0, upright ? 1.0 : 0.0}};
  return flat;
}

TEST(Sketch, HasTheDrumThatTheMarksWereMadeOf) {
  const SightRays rays = rays_of(kLens, drum());
  const auto seen = seen_with(rays, kUp);
  ASSERT_TRUE(seen);
  EXPECT_TRUE(seen->has_rim);
  EXPECT_NEAR(seen->ratio, (kEyeMm - kDrumMm) / kEyeMm, kExactMm);
  EXPECT_NEAR(axis_reach(*seen) * kEyeMm, kDistanceOfAxisMm, kExactMm);
  const auto sketch = sketched(rays, *seen, kUp, kEyeMm, false, 0.0, kControls);
  ASSERT_TRUE(sketch);
  EXPECT_NEAR(sketch->distance_mm, kDistanceOfAxisMm, kExactMm);
  EXPECT_NEAR(sketch->eye_height_mm, kEyeMm, kExactMm);
  EXPECT_TRUE(sketch->axes.isApprox((Eigen::Matrix3d() << 1, 0, 0, 0, 0, -1, 0, 1, 0).finished(),
                                    kExactMm));
  ASSERT_EQ(sketch->controls.size(), 2 * kControls);
  for (std::size_t i = 0; i < kControls; ++i) {
    EXPECT_NEAR(sketch->controls[2 * i], kRadiusMm, kSketchedMm);
  }
  EXPECT_EQ(sketch->controls[1], 0.0);
  EXPECT_NEAR(sketch->controls.back(), kDrumMm, kSketchedMm);
}

TEST(Sketch, KnowsUpByTheRim) {
  const SightRays rays = rays_of(kLens, drum());
  double nearest = 2.0;
  for (const Eigen::Vector3d& up : ups_of_rim(rays.rim)) {
    nearest = std::min(nearest, (upwards(up) - kUp).norm());
  }
  EXPECT_LT(nearest, kExactMm);
}

TEST(Sketch, HasNoneOfAnEyeThatIsLevelWithItsShelf) {
  const SightRays rays = rays_of(kLens, drum());
  const auto seen = seen_with(rays, kUp);
  ASSERT_TRUE(seen);
  EXPECT_FALSE(sketched(rays, *seen, kUp, 0.0, false, 0.0, kControls));
}

TEST(Shelf, IsAsFarBelowTheEyeAsEachLengthSays) {
  const auto seen = seen_with(rays_of(kLens, drum()), kUp);
  ASSERT_TRUE(seen);
  const ShelfSight sight{kLens, 0.0};
  const auto found = [&](const Flat& flat) { return shelf_from_length(sight, flat, *seen, kUp); };
  EXPECT_NEAR(
      found(length_of(100.0, Place::kLying, pixel(-150.0, -80.0, 0.0), pixel(-50.0, -80.0, 0.0))),
      kEyeMm, kExactMm);
  EXPECT_NEAR(
      found(length_of(80.0, Place::kStanding, pixel(120.0, -90.0, 0.0), pixel(120.0, -90.0, 80.0))),
      kEyeMm, kExactMm);
  EXPECT_NEAR(
      found(length_of(90.0, Place::kBeside, pixel(100.0, 0.0, 20.0), pixel(190.0, 0.0, 20.0))),
      kEyeMm, kExactMm);
  Flat on_glass =
      length_of(90.0, Place::kOnGlass, pixel(100.0, -200.0, 20.0), pixel(190.0, -200.0, 20.0));
  on_glass.seat.glass_to_axis_mm = 200.0;
  EXPECT_NEAR(found(on_glass), kEyeMm, kExactMm);
  // The same by the line where shelf and pane meet.
  on_glass.seat.glass_to_axis_mm = 0.0;
  on_glass.seat.shelf_at_glass = {pixel(-300.0, -200.0, 0.0), pixel(300.0, -200.0, 0.0)};
  EXPECT_NEAR(found(on_glass), kEyeMm, kExactMm);
}

TEST(Shelf, IsAsFarBelowTheEyeAsAKnownSizeSays) {
  const SightRays rays = rays_of(kLens, drum());
  for (const KnownSize& size :
       {KnownSize{0, SizeName::kHeight, kDrumMm, 1.0, false},
        KnownSize{0, SizeName::kRimDiameter, 2.0 * kRadiusMm, 1.0, false}}) {
    const auto shelf = shelf_from_size(rays, false, kUp, size, kControls);
    ASSERT_TRUE(shelf);
    EXPECT_NEAR(*shelf, kEyeMm, kEyeMm * kSketchedMm / size.value_mm);
  }
}

TEST(Placement, PutsALengthWhereItsEndsAre) {
  const SketchedCamera camera{kLens,
                              (Eigen::Matrix3d() << 1, 0, 0, 0, 0, -1, 0, 1, 0).finished(),
                              {0.0, -kDistanceOfAxisMm, kEyeMm}};
  View view;
  const auto lying = placed_length(
      camera, length_of(100.0, Place::kLying, pixel(-150.0, -80.0, 0.0), pixel(-150.0, 20.0, 0.0)),
      view);
  EXPECT_NEAR(lying[kAlongMm], -150.0, kExactMm);
  EXPECT_NEAR(lying[kAcrossMm], -80.0, kExactMm);
  EXPECT_NEAR(lying[kYawRad], std::numbers::pi / 2.0, kExactMm);
  const auto standing = placed_length(
      camera,
      length_of(80.0, Place::kStanding, pixel(120.0, -90.0, 0.0), pixel(120.0, -90.0, 80.0)), view);
  EXPECT_NEAR(standing[kAlongMm], 120.0, kExactMm);
  EXPECT_NEAR(standing[kAcrossMm], -90.0, kExactMm);
  EXPECT_EQ(standing[kHeightMm], 80.0);
}

}  // namespace
}  // namespace potshadow::internal

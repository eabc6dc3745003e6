// SPDX-License-Identifier: MIT
// Volumes against solid geometry, sizes of shapes whose sizes are known, and the trade's words.
#include "vessel/sizes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <vector>

namespace potshadow {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kMm3PerMl = 1000.0;
// The figures are given to 0.01 mL, 0.001 mL and 0.01 %: half a unit of the last digit.
constexpr double kCentilitreHalfDigit = 0.005;
constexpr double kMicrolitreHalfDigit = 0.0005;
constexpr double kPercentHalfDigit = 0.005;
// Capacity is good to 0.02 % of its slices, and the curve follows the shapes below to some 0.01 mm
// in 100: together within 0.1 %.
constexpr double kCapacityPart = 0.001;
// Slices alone, the header's claim.
constexpr double kSlicesPart = 0.0002;
// The curve follows the smooth shapes below to a hundredth of a millimetre at worst.
constexpr double kSizeMm = 0.02;
// Where a smooth wall turns, a hundredth of a millimetre of radius shifts the turn this much.
constexpr double kTurnMm = 0.5;
// A sharp keel is rounded off between knots 2.4 mm apart: 0.36 mm of diameter.
constexpr double kKeelMm = 0.5;
// Rounding of lengths of some hundred millimetres, with slack.
constexpr double kRounding = 1e-9;
constexpr std::size_t kControls = 60;

using Polyline = std::vector<ProfilePoint>;

// The polyline of a curve of our own, for t from 0 at the base to 1 at the rim.
Polyline traced(const std::function<ProfilePoint(double)>& curve) {
  constexpr int kSteps = 800;
  Polyline points;
  for (int i = 0; i <= kSteps; ++i) points.push_back(curve(i / double{kSteps}));
  return points;
}

Profile profile_of(const Polyline& points) {
  const auto profile = Profile::through(points, kControls);
  EXPECT_TRUE(profile.ok());
  return profile.value();
}

// A wall whose radius is a function of the height.
Profile wall_of(double height, const std::function<double(double)>& radius_at) {
  return profile_of(traced([&](double t) -> ProfilePoint {
    return {radius_at(height * t), height * t};
  }));
}

// One at `middle`, nothing at `half` from it.
double hump(double z, double middle, double half) {
  return (1.0 + std::cos(kPi * (z - middle) / half)) / 2.0;
}

Profile hemisphere(double radius) {
  return profile_of(traced([=](double t) -> ProfilePoint {
    return {radius * std::sin(kPi / 2.0 * t), radius * (1.0 - std::cos(kPi / 2.0 * t))};
  }));
}

// Shoulder at 70 mm, throat at 150 mm with radius 30, rim flared out again.
Profile flared_jar() {
  return wall_of(180.0, [](double z) { return 30.0 + 50.0 * hump(z, 70.0, 80.0); });
}

TEST(FrustaVolume, FrustumOfACone) {
  // pi h (r1^2 + r1 r2 + r2^2) / 3 with 80, 50 and 120 mm.
  EXPECT_NEAR(frusta_volume_ml({{80.0, 0.0}, {50.0, 120.0}}), 1621.06, kCentilitreHalfDigit);
  // Cut in three it is the same.
  EXPECT_NEAR(frusta_volume_ml({{80.0, 0.0}, {75.0, 20.0}, {60.0, 80.0}, {50.0, 120.0}}), 1621.06,
              kCentilitreHalfDigit);
}

// The method of stacked bevelled cylinders: Senior & Birnie, American Antiquity 60(2), 1995. They
// put its error below 1 % for 20 to 30 points.
TEST(FrustaVolume, SphereErrorsForTenToFiftySlices) {
  constexpr double kRadius = 100.0;
  constexpr double kSphere = 4188.79;
  EXPECT_NEAR(4.0 / 3.0 * kPi * std::pow(kRadius, 3) / kMm3PerMl, kSphere, kCentilitreHalfDigit);
  struct Row {
    int slices;
    double percent;
  };
  constexpr std::array<Row, 4> kRows{{{10, -3.09}, {20, -0.87}, {30, -0.41}, {50, -0.16}}};
  int rows = 0;
  for (const Row& row : kRows) {
    Polyline points;
    for (int i = 0; i <= row.slices; ++i) {
      const double z = 2.0 * kRadius * i / row.slices;
      points.push_back({std::sqrt(std::max(0.0, z * (2.0 * kRadius - z))), z});
    }
    const double percent = 100.0 * (frusta_volume_ml(points) / kSphere - 1.0);
    EXPECT_NEAR(percent, row.percent, kPercentHalfDigit) << row.slices;
    ++rows;
  }
  EXPECT_EQ(rows, 4);
}

TEST(FrustaVolume, TorusByPappus) {
  // 2 pi^2 R r^2 with R = 60, r = 20 mm: the closed ring counts up outside and down inside.
  Polyline ring;
  constexpr int kSteps = 8192;  // leaves 1e-7 of the volume
  for (int i = 0; i <= kSteps; ++i) {
    const double a = 2.0 * kPi * i / kSteps;
    ring.push_back({60.0 + 20.0 * std::cos(a), 20.0 + 20.0 * std::sin(a)});
  }
  EXPECT_NEAR(frusta_volume_ml(ring), 473.741, kMicrolitreHalfDigit);
}

TEST(FrustaVolume, NothingForNoHeight) {
  EXPECT_EQ(frusta_volume_ml({}), 0.0);
  EXPECT_EQ(frusta_volume_ml({{50.0, 0.0}}), 0.0);
  EXPECT_EQ(frusta_volume_ml({{50.0, 10.0}, {90.0, 10.0}}), 0.0);
}

TEST(Capacity, CylinderInClosedForm) {
  const Profile profile = wall_of(100.0, [](double) { return 50.0; });
  int walls = 0;
  for (const double wall : {0.0, 3.0, 5.0, 10.0, 25.0}) {
    const double expected = kPi * std::pow(50.0 - wall, 2) * (100.0 - wall) / kMm3PerMl;
    EXPECT_NEAR(capacity_ml(profile, Mm{wall}), expected, kCapacityPart * expected) << wall;
    ++walls;
  }
  EXPECT_EQ(walls, 5);
}

TEST(Capacity, HemisphereInClosedForm) {
  const Profile profile = hemisphere(100.0);
  int walls = 0;
  for (const double wall : {0.0, 4.0, 8.0, 15.0}) {
    const double expected = 2.0 / 3.0 * kPi * std::pow(100.0 - wall, 3) / kMm3PerMl;
    EXPECT_NEAR(capacity_ml(profile, Mm{wall}), expected, kCapacityPart * expected) << wall;
    ++walls;
  }
  EXPECT_EQ(walls, 4);
}

TEST(Capacity, SlopingWallIsMeasuredAlongItsNormal) {
  // A cone frustum, 40 to 80 mm over 120: the wall is thicker on the level by the slant.
  const Profile profile = wall_of(120.0, [](double z) { return 40.0 + z / 3.0; });
  const double wall = 6.0;
  const double level = wall * std::hypot(1.0, 1.0 / 3.0);
  const double low = 40.0 + wall / 3.0 - level;
  const double high = 80.0 - level;
  const double expected =
      kPi * (120.0 - wall) * (low * low + low * high + high * high) / 3.0 / kMm3PerMl;
  EXPECT_NEAR(capacity_ml(profile, Mm{wall}), expected, kCapacityPart * expected);
}

TEST(Capacity, NothingWhereTheWallFillsTheVessel) {
  const Profile tall = wall_of(100.0, [](double) { return 20.0; });
  EXPECT_EQ(capacity_ml(tall, Mm{20.5}), 0.0);
  const Profile flat = wall_of(10.0, [](double) { return 90.0; });
  EXPECT_EQ(capacity_ml(flat, Mm{10.0}), 0.0);
  EXPECT_EQ(capacity_ml(flat, Mm{50.0}), 0.0);
  EXPECT_GT(capacity_ml(flat, Mm{8.0}), 0.0);
}

TEST(Capacity, ThickerWallHoldsLess) {
  int steps = 0;
  for (const Profile& profile : {flared_jar(), hemisphere(80.0)}) {
    double before = std::numeric_limits<double>::infinity();
    for (double wall = 0.0; wall < 20.0; wall += 1.0) {
      const double holds = capacity_ml(profile, Mm{wall});
      EXPECT_LT(holds, before);
      EXPECT_GT(holds, 0.0);
      before = holds;
      ++steps;
    }
  }
  EXPECT_EQ(steps, 40);
}

TEST(Capacity, MoreSlicesDoNotChangeIt) {
  const Profile profile = flared_jar();
  const double fine = capacity_ml(profile, Mm{6.0}, 6400);
  EXPECT_NEAR(capacity_ml(profile, Mm{6.0}), fine, kSlicesPart * fine);
}

TEST(Capacity, WithoutAWallItIsTheSolid) {
  const Profile profile = flared_jar();
  const double solid = frusta_volume_ml(profile.sampled(4001));
  EXPECT_NEAR(capacity_ml(profile, Mm{0.0}), solid, kCapacityPart * solid);
}

TEST(SizesOf, FlaredRim) {
  const Sizes sizes = sizes_of(flared_jar());
  EXPECT_NEAR(sizes.height_mm, 180.0, kSizeMm);
  EXPECT_NEAR(sizes.max_diameter_mm, 160.0, kSizeMm);
  EXPECT_NEAR(sizes.height_of_max_mm, 70.0, kTurnMm);
  ASSERT_TRUE(sizes.neck_diameter_mm.has_value());
  ASSERT_TRUE(sizes.height_of_neck_mm.has_value());
  EXPECT_NEAR(*sizes.neck_diameter_mm, 60.0, kSizeMm);
  EXPECT_NEAR(*sizes.height_of_neck_mm, 150.0, kTurnMm);
  EXPECT_NEAR(sizes.rim_diameter_mm, 2.0 * (30.0 + 50.0 * hump(180.0, 70.0, 80.0)), kSizeMm);
  ASSERT_TRUE(sizes.base_diameter_mm.has_value());
  EXPECT_NEAR(*sizes.base_diameter_mm, 2.0 * (30.0 + 50.0 * hump(0.0, 70.0, 80.0)), kSizeMm);
}

TEST(SizesOf, FeaturesLieOnTheCurve) {
  const Profile profile = flared_jar();
  const Sizes sizes = sizes_of(profile);
  ASSERT_TRUE(sizes.neck.has_value());
  int features = 0;
  for (const ProfileFeature& feature : {sizes.top, sizes.widest, *sizes.neck}) {
    const ProfilePoint p = profile.at(feature.s);
    EXPECT_NEAR(p.radius_mm, feature.radius_mm, kRounding);
    EXPECT_NEAR(p.height_mm, feature.height_mm, kRounding);
    ++features;
  }
  EXPECT_EQ(features, 3);
  EXPECT_EQ(sizes.height_mm, sizes.top.height_mm);
  EXPECT_EQ(sizes.max_diameter_mm, 2.0 * sizes.widest.radius_mm);
  EXPECT_EQ(*sizes.neck_diameter_mm, 2.0 * sizes.neck->radius_mm);
}

TEST(SizesOf, InturnedRimHasNoNeck) {
  // A seed jar: a sphere of radius 90 from 70 mm below its centre to 60 degrees above.
  const double from = -std::asin(70.0 / 90.0);
  const Profile profile = profile_of(traced([=](double t) -> ProfilePoint {
    const double a = from + t * (kPi / 3.0 - from);
    return {90.0 * std::cos(a), 70.0 + 90.0 * std::sin(a)};
  }));
  const Sizes sizes = sizes_of(profile);
  EXPECT_FALSE(sizes.neck.has_value());
  EXPECT_FALSE(sizes.neck_diameter_mm.has_value());
  EXPECT_FALSE(sizes.height_of_neck_mm.has_value());
  EXPECT_NEAR(sizes.max_diameter_mm, 180.0, kSizeMm);
  EXPECT_NEAR(sizes.height_of_max_mm, 70.0, kTurnMm);
  EXPECT_NEAR(sizes.rim_diameter_mm, 90.0, kSizeMm);
  EXPECT_NEAR(sizes.height_mm, 70.0 + 90.0 * std::sin(kPi / 3.0), kSizeMm);
  ASSERT_TRUE(sizes.base_diameter_mm.has_value());
  EXPECT_NEAR(*sizes.base_diameter_mm, 2.0 * std::sqrt(90.0 * 90.0 - 70.0 * 70.0), kSizeMm);
}

TEST(SizesOf, TallNarrowNeck) {
  // A bottle: belly of radius 80 at 50 mm, neck narrowing to 18 at 170 mm, lip of 28 at 210 mm.
  const Profile profile = wall_of(210.0, [](double z) {
    return z < 170.0 ? 18.0 + 62.0 * hump(z, 50.0, 120.0)
                     : 18.0 + 10.0 * std::pow((z - 170.0) / 40.0, 2);
  });
  const Sizes sizes = sizes_of(profile);
  EXPECT_NEAR(sizes.max_diameter_mm, 160.0, kSizeMm);
  EXPECT_NEAR(sizes.height_of_max_mm, 50.0, kTurnMm);
  ASSERT_TRUE(sizes.neck.has_value());
  EXPECT_NEAR(*sizes.neck_diameter_mm, 36.0, kSizeMm);
  EXPECT_NEAR(*sizes.height_of_neck_mm, 170.0, kTurnMm);
  EXPECT_NEAR(sizes.rim_diameter_mm, 56.0, kSizeMm);
}

TEST(SizesOf, OpenBowlIsWidestAtItsRim) {
  const Profile profile = wall_of(80.0, [](double z) { return 40.0 + 80.0 * std::sin(z / 60.0); });
  const Sizes sizes = sizes_of(profile);
  EXPECT_FALSE(sizes.neck.has_value());
  EXPECT_NEAR(sizes.max_diameter_mm, sizes.rim_diameter_mm, kRounding);
  EXPECT_NEAR(sizes.rim_diameter_mm, 2.0 * (40.0 + 80.0 * std::sin(80.0 / 60.0)), kSizeMm);
  EXPECT_NEAR(sizes.height_of_max_mm, 80.0, kSizeMm);
  EXPECT_NEAR(*sizes.base_diameter_mm, 80.0, kSizeMm);
}

TEST(SizesOf, FlatEvertedLipReachesBeyondTheNeck) {
  // The neck of radius 60 bends over 12 mm into a flat lip of radius 100, wider than the belly.
  Polyline points = traced([](double t) -> ProfilePoint {
    return {60.0 + 30.0 * hump(150.0 * t, 70.0, 80.0), 150.0 * t};
  });
  for (int i = 1; i <= 60; ++i) {
    const double a = kPi - kPi / 2.0 * i / 60.0;
    points.push_back({72.0 + 12.0 * std::cos(a), 150.0 + 12.0 * std::sin(a)});
  }
  points.push_back({100.0, 162.0});
  const Sizes sizes = sizes_of(profile_of(points));
  ASSERT_TRUE(sizes.neck.has_value());
  EXPECT_NEAR(*sizes.neck_diameter_mm, 120.0, 2.0 * kSizeMm);
  EXPECT_NEAR(*sizes.height_of_neck_mm, 150.0, 2.0 * kTurnMm);
  EXPECT_NEAR(sizes.rim_diameter_mm, 200.0, kSizeMm);
  EXPECT_NEAR(sizes.max_diameter_mm, 200.0, kSizeMm) << "the lip is the widest place";
  EXPECT_NEAR(sizes.height_mm, 162.0, kSizeMm);
}

TEST(SizesOf, SharpKeel) {
  const Sizes sizes = sizes_of(profile_of({{40.0, 0.0}, {100.0, 60.0}, {80.0, 110.0}}));
  EXPECT_NEAR(sizes.max_diameter_mm, 200.0, kKeelMm);
  EXPECT_NEAR(sizes.height_of_max_mm, 60.0, kTurnMm);
  EXPECT_FALSE(sizes.neck.has_value());
  EXPECT_NEAR(sizes.rim_diameter_mm, 160.0, kSizeMm);
  EXPECT_NEAR(*sizes.base_diameter_mm, 80.0, kSizeMm);
}

TEST(SizesOf, RoundBaseHasNoDiameter) {
  const Sizes sizes = sizes_of(hemisphere(90.0));
  EXPECT_FALSE(sizes.base_diameter_mm.has_value());
  EXPECT_NEAR(sizes.height_mm, 90.0, kSizeMm);
  EXPECT_NEAR(sizes.max_diameter_mm, 180.0, kSizeMm);
}

TEST(SizesOf, NeckNeedsAWallThatTurnsOutAgain) {
  // A neck of radius 40 under a rim of 40 plus `out`; the belly is 80 wide in radius. A neck stands
  // out by more than a hundredth of the maximum diameter: 1.6 mm here.
  const auto jar = [](double out) {
    return wall_of(180.0, [=](double z) {
      return z < 150.0 ? 40.0 + 40.0 * hump(z, 70.0, 80.0)
                       : 40.0 + out * std::pow((z - 150.0) / 30.0, 2);
    });
  };
  EXPECT_FALSE(sizes_of(jar(0.0)).neck.has_value());
  EXPECT_FALSE(sizes_of(jar(1.2)).neck.has_value());
  EXPECT_TRUE(sizes_of(jar(2.0)).neck.has_value());
}

TEST(SizesOf, SizesGrowWithTheProfile) {
  const Profile profile = flared_jar();
  const Sizes once = sizes_of(profile);
  const Sizes twice = sizes_of(profile.scaled(2.0));
  constexpr double kSame = 1e-5;  // golden section finds a turn to half of the digits
  EXPECT_NEAR(twice.height_mm, 2.0 * once.height_mm, kRounding);
  EXPECT_NEAR(twice.max_diameter_mm, 2.0 * once.max_diameter_mm, kRounding);
  EXPECT_NEAR(twice.height_of_max_mm, 2.0 * once.height_of_max_mm, kSame);
  EXPECT_NEAR(*twice.neck_diameter_mm, 2.0 * *once.neck_diameter_mm, kRounding);
  EXPECT_NEAR(twice.rim_diameter_mm, 2.0 * once.rim_diameter_mm, kRounding);
  // Volume grows by the cube.
  const double capacity = capacity_ml(profile, Mm{6.0});
  EXPECT_NEAR(capacity_ml(profile.scaled(2.0), Mm{12.0}), 8.0 * capacity, kSame * capacity);
}

// Height classes after Rice, "Pottery Analysis", 1987, from memory: plate below a fifth of the
// maximum diameter, dish to a third, bowl to one, jar above. A neck below 3/4 or a mouth below 6/10
// of the maximum makes a jar of any height: common practice, no source. Openings after Hartmann
// 2016: the rim is 100 % of the maximum when open, 90 to 100 % when restricted, less when closed.
TEST(ShapeOf, ClassesOfTheHandbooks) {
  struct Row {
    double height, rim;  // of a maximum diameter of 100
    double neck;         // 0: none
    HeightClass height_class;
    Opening opening;
  };
  using enum HeightClass;
  using enum Opening;
  const std::vector<Row> rows{
      {19.0, 100.0, 0.0, kPlate, kOpen},     {21.0, 100.0, 0.0, kDish, kOpen},
      {33.0, 100.0, 0.0, kDish, kOpen},      {34.0, 100.0, 0.0, kBowl, kOpen},
      {60.0, 100.0, 0.0, kBowl, kOpen},      {99.0, 100.0, 0.0, kBowl, kOpen},
      {101.0, 100.0, 0.0, kJar, kOpen},      {60.0, 99.0, 0.0, kBowl, kRestricted},
      {60.0, 91.0, 0.0, kBowl, kRestricted}, {60.0, 89.0, 0.0, kBowl, kClosed},
      {60.0, 61.0, 0.0, kBowl, kClosed},     {60.0, 59.0, 0.0, kJar, kClosed},
      {150.0, 50.0, 0.0, kJar, kClosed},     {60.0, 80.0, 74.0, kJar, kClosed},
      {60.0, 100.0, 74.0, kJar, kOpen},      {60.0, 95.0, 76.0, kBowl, kRestricted},
      {25.0, 100.0, 50.0, kJar, kOpen},
  };
  int classified = 0;
  for (const Row& row : rows) {
    Sizes sizes;
    sizes.height_mm = 2.0 * row.height;
    sizes.max_diameter_mm = 200.0;
    sizes.rim_diameter_mm = 2.0 * row.rim;
    if (row.neck > 0.0) {
      sizes.neck_diameter_mm = 2.0 * row.neck;
      sizes.height_of_neck_mm = 1.6 * row.height;
      sizes.neck = ProfileFeature{0.8, row.neck, 1.6 * row.height};
    }
    const Shape shape = shape_of(sizes);
    EXPECT_EQ(shape.height_class, row.height_class) << "row " << classified;
    EXPECT_EQ(shape.opening, row.opening) << "row " << classified;
    ++classified;
  }
  EXPECT_EQ(classified, 17);
}

TEST(ShapeOf, WordsForWholeVessels) {
  EXPECT_EQ(shape_of(sizes_of(flared_jar())).height_class, HeightClass::kJar);
  const Shape bowl = shape_of(sizes_of(hemisphere(80.0)));
  EXPECT_EQ(bowl.height_class, HeightClass::kBowl);
  EXPECT_EQ(bowl.opening, Opening::kOpen);
}

}  // namespace
}  // namespace potshadow

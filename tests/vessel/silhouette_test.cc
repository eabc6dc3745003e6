// SPDX-License-Identifier: MIT
// The outline is not the profile: a sphere looks wider than it is, by plain trigonometry.
#include "vessel/silhouette.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

namespace potshadow {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kRadius = 100.0;
// The figures are given to a thousandth of a per cent; half a unit of the last digit.
constexpr double kPercentHalfDigit = 0.0005;
// Rounding of lengths of some hundred millimetres, with slack.
constexpr double kRoundingMm = 1e-9;

// A whole sphere on the shelf. So many control points follow it to a millionth of its size, far
// closer than the figures' half digit.
Profile sphere() {
  std::vector<ProfilePoint> points;
  constexpr int kSteps = 20000;
  for (int i = 0; i <= kSteps; ++i) {
    const double a = kPi * i / kSteps;
    points.push_back({kRadius * std::abs(std::sin(a)), kRadius * (1.0 - std::cos(a))});
  }
  return Profile::through(points, 120).value();
}

struct Row {
  double distance_mm, wide_percent, tangent_offset_mm;
};
// Trigonometry: apparent half-width R / sqrt(1 - (R/D)^2); the tangent point lies R^2 / D in front
// of the axis.
constexpr std::array<Row, 3> kRows{
    {{500.0, 2.062, 20.0}, {800.0, 0.791, 12.5}, {1000.0, 0.504, 10.0}}};

TEST(Silhouette, SphereLooksWiderThanItIs) {
  const Profile profile = sphere();
  int rows = 0;
  for (const Row& row : kRows) {
    const Mm level = apparent_max_diameter(profile, {row.distance_mm, 0.0, kRadius});
    EXPECT_NEAR(100.0 * (level.value / (2.0 * kRadius) - 1.0), row.wide_percent, kPercentHalfDigit);
    // From any side alike.
    const Mm aside = apparent_max_diameter(
        profile, {row.distance_mm * std::cos(2.0), row.distance_mm * std::sin(2.0), kRadius});
    EXPECT_NEAR(aside.value, level.value, kRoundingMm);
    ++rows;
  }
  EXPECT_EQ(rows, 3);
}

TEST(Silhouette, SphereSeenFromAboveIsAsWideAsItsUprightTangentPlanes) {
  // The widest places of the outline lie in the two upright planes through the eye that touch the
  // sphere. Seen in plan they are the tangents of a circle, so only the level distance counts.
  const Profile profile = sphere();
  constexpr double kLevel = 800.0;
  constexpr double kUp = 300.0;
  const Mm seen = apparent_max_diameter(profile, {kLevel, 0.0, kRadius + kUp});
  const double expected = kRadius / std::sqrt(1.0 - kRadius * kRadius / (kLevel * kLevel));
  EXPECT_NEAR(100.0 * (seen.value / (2.0 * expected) - 1.0), 0.0, kPercentHalfDigit);
}

TEST(ContactAngle, TangentPointLiesInFrontOfTheAxis) {
  int rows = 0;
  for (const Row& row : kRows) {
    const auto angle =
        contact_angle({kRadius, kRadius}, {1.0, 0.0}, Mm{row.distance_mm}, Mm{kRadius});
    ASSERT_TRUE(angle.has_value());
    EXPECT_NEAR(kRadius * std::cos(angle->value), row.tangent_offset_mm, kRoundingMm);
    ++rows;
  }
  EXPECT_EQ(rows, 3);
}

TEST(ContactAngle, SightLinesTouchTheSphere) {
  // At any latitude that has a contact the sight line passes the sphere's centre at its radius.
  std::mt19937_64 random(31);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  constexpr int kTries = 2000;
  int touching = 0;
  int none = 0;
  for (int i = 0; i < kTries; ++i) {
    const double latitude = between(-kPi / 2.0, kPi / 2.0);
    const double rho = between(150.0, 1500.0);
    const double eye_z = between(-400.0, 900.0);
    const double nr = std::cos(latitude);
    const double nz = std::sin(latitude);
    const auto angle =
        contact_angle({kRadius * nr, kRadius + kRadius * nz}, {nr, nz}, Mm{rho}, Mm{eye_z});
    // The contacts are where the eye's polar plane, at R^2 / L from the centre, cuts the sphere.
    const double up = eye_z - kRadius;
    const bool expected = std::abs(kRadius - nz * up) <= nr * rho;
    ASSERT_EQ(angle.has_value(), expected);
    if (!angle) {
      ++none;
      continue;
    }
    // From the centre of the sphere; the eye at azimuth zero.
    const std::array<double, 3> point{kRadius * nr * std::cos(angle->value),
                                      kRadius * nr * std::sin(angle->value), kRadius * nz};
    const std::array<double, 3> ray{point[0] - rho, point[1], point[2] - up};
    const std::array<double, 3> cross{point[1] * ray[2] - point[2] * ray[1],
                                      point[2] * ray[0] - point[0] * ray[2],
                                      point[0] * ray[1] - point[1] * ray[0]};
    const double closest =
        std::hypot(cross[0], cross[1], cross[2]) / std::hypot(ray[0], ray[1], ray[2]);
    constexpr double kTouchMm = 1e-6;  // near the poles acos loses half of the digits
    EXPECT_NEAR(closest, kRadius, kTouchMm);
    EXPECT_GE(angle->value, 0.0);
    EXPECT_LE(angle->value, kPi);
    ++touching;
  }
  EXPECT_EQ(touching + none, kTries);
  EXPECT_GT(touching, kTries / 4);
  EXPECT_GT(none, kTries / 20);
}

TEST(ContactAngle, NoneWhereSeenWhollyFromAboveBelowOrWithin) {
  // A shoulder rising at 45 degrees, its normal up and outwards: an eye far above sees all of it.
  const ProfilePoint shoulder{60.0, 150.0};
  const double half = std::sqrt(0.5);
  EXPECT_FALSE(contact_angle(shoulder, {half, half}, Mm{500.0}, Mm{1000.0}).has_value());
  // Level with it, part of it faces away.
  EXPECT_TRUE(contact_angle(shoulder, {half, half}, Mm{500.0}, Mm{150.0}).has_value());
  // Far below, none of it can be seen.
  EXPECT_FALSE(contact_angle(shoulder, {half, half}, Mm{500.0}, Mm{-1000.0}).has_value());
  // A flat lip has no outline of its own.
  EXPECT_FALSE(contact_angle(shoulder, {0.0, 1.0}, Mm{500.0}, Mm{400.0}).has_value());
  // From inside a cylinder no sight line touches it.
  EXPECT_FALSE(contact_angle({60.0, 80.0}, {1.0, 0.0}, Mm{40.0}, Mm{80.0}).has_value());
}

TEST(ContactAngle, CylinderIsTouchedWhereTrigonometrySays) {
  // cos = R / D whatever the height of the eye: 60 / 120 gives 60 degrees.
  int heights = 0;
  for (const double eye_z : {-200.0, 0.0, 80.0, 700.0}) {
    const auto angle = contact_angle({60.0, 80.0}, {1.0, 0.0}, Mm{120.0}, Mm{eye_z});
    ASSERT_TRUE(angle.has_value());
    EXPECT_NEAR(angle->value, kPi / 3.0, kRoundingMm);
    ++heights;
  }
  EXPECT_EQ(heights, 4);
}

}  // namespace
}  // namespace potshadow

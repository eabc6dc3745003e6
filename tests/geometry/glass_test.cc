// SPDX-License-Identifier: MIT
// The pane is checked against printed figures for plane-parallel plates and a ray trace by Snell's
// law alone.
#include "geometry/glass.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>

namespace potshadow {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;
constexpr double kIndex = 1.52;
// The figures are given to a thousandth of a millimetre; half a unit of the last digit.
constexpr double kTableHalfDigit = 0.0005;
// Two fixed-point steps leave about (shift / distance)^2 of the shift. At a hundred thicknesses and
// more the worst ray below misses by 2e-5 mm; the header promises a micrometre, ten times this.
constexpr double kSeen = 1e-4;
// From 25 thicknesses on, a hand's breadth from the glass, the worst misses by 3e-4 mm; a
// micrometre.
constexpr double kSeenCloseBy = 1e-3;
constexpr double kRounding = 1e-12;
constexpr int kRays = 500;

// d = t sin a (1 - cos a / sqrt(n^2 - sin^2 a)), the sideways displacement by a plane-parallel
// plate of optics texts; the shift at the normal is t (1 - 1/n).
TEST(Glass, DisplacementMatchesThePlateFigures) {
  struct Row {
    double thickness, shift_at_normal, at_30, at_45;
  };
  constexpr std::array<Row, 3> kRows{
      {{6.4, 2.189, 1.269, 2.147}, {10.0, 3.421, 1.983, 3.355}, {12.0, 4.105, 2.380, 4.026}}};
  int rows = 0;
  for (const Row& row : kRows) {
    const Mm t{row.thickness};
    EXPECT_NEAR(glass_shift_mm(t.value, kIndex, 1.0), row.shift_at_normal, kTableHalfDigit);
    EXPECT_NEAR(lateral_displacement_mm(t, kIndex, Rad{30.0 * kDegree}), row.at_30,
                kTableHalfDigit);
    EXPECT_NEAR(lateral_displacement_mm(t, kIndex, Rad{45.0 * kDegree}), row.at_45,
                kTableHalfDigit);
    ++rows;
  }
  EXPECT_EQ(rows, 3);
}

TEST(Glass, IndexOfOneFiftyGivesTheFigureForIt) {
  // The same formula's figure for n = 1.50, 10 mm, 45 degrees.
  EXPECT_NEAR(lateral_displacement_mm(Mm{10.0}, 1.50, Rad{45.0 * kDegree}), 3.291, kTableHalfDigit);
}

TEST(Glass, NoGlassAndGlassOfAirDoNothing) {
  EXPECT_EQ(lateral_displacement_mm(Mm{0.0}, kIndex, Rad{0.6}), 0.0);
  EXPECT_NEAR(lateral_displacement_mm(Mm{10.0}, 1.0, Rad{0.6}), 0.0, kRounding);
  EXPECT_EQ(lateral_displacement_mm(Mm{10.0}, kIndex, Rad{0.0}), 0.0);
}

// Traces the ray from an eye `before` the pane to a point `behind` it, `aside` off: the angle in
// air by bisection, with Snell's law at the faces. Returns how deep (along the normal, from the
// eye) the point seems to stand on that ray.
double seen_depth_by_snell(double before, double thickness, double behind, double aside,
                           double index) {
  double low = 0.0;
  double high = std::numbers::pi / 2.0;
  for (int i = 0; i < 200; ++i) {
    const double angle = (low + high) / 2.0;
    const double in_glass = std::asin(std::sin(angle) / index);
    const double reach = (before + behind) * std::tan(angle) + thickness * std::tan(in_glass);
    (reach < aside ? low : high) = angle;
  }
  return aside / std::tan((low + high) / 2.0);
}

double worst_miss(unsigned seed, double nearest_in_panes, double farthest_in_panes) {
  std::mt19937_64 random(seed);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  double worst = 0.0;
  for (int i = 0; i < kRays; ++i) {
    const double t = between(4.0, 12.0);
    const double index = between(1.48, 1.55);
    const double depth = t * between(nearest_in_panes, farthest_in_panes);
    const double before = (depth - t) * between(0.1, 0.9);
    const double aside = depth * std::tan(between(1.0, 50.0) * kDegree);
    const Eigen::Vector3d normal =
        Eigen::Vector3d(between(-1.0, 1.0), between(-1.0, 1.0), between(-1.0, 1.0)).normalized();
    const Eigen::Vector3d across =
        normal.cross(Eigen::Vector3d(between(-1.0, 1.0), between(-1.0, 1.0), 2.0)).normalized();
    const Eigen::Vector3d eye(between(-500.0, 500.0), between(-500.0, 500.0), between(0.0, 500.0));
    const Eigen::Vector3d point = eye + depth * normal + aside * across;

    const double seen_depth = seen_depth_by_snell(before, t, depth - t - before, aside, index);
    const Eigen::Vector3d expected = eye + seen_depth * normal + aside * across;
    const Eigen::Vector3d seen = seen_through_glass<double>(point, eye, normal, t, index);
    EXPECT_LT((seen - eye).dot(normal), depth) << "things behind glass look nearer";
    worst = std::max(worst, (seen - expected).norm());
  }
  return worst;
}

TEST(Glass, SeenPointLiesOnTheRayThatSnellTraces) {
  const double worst = worst_miss(11, 100.0, 300.0);
  EXPECT_LT(worst, kSeen);
}

TEST(Glass, SeenPointIsGoodCloseByToo) {
  const double worst = worst_miss(12, 25.0, 100.0);
  EXPECT_LT(worst, kSeenCloseBy);
}

TEST(Glass, StraightAheadThePointComesNearerByTheShift) {
  const Eigen::Vector3d seen =
      seen_through_glass<double>(Eigen::Vector3d(0.0, 0.0, 800.0), Eigen::Vector3d::Zero(),
                                 Eigen::Vector3d::UnitZ(), 10.0, kIndex);
  EXPECT_NEAR(seen.z(), 800.0 - 3.421, kTableHalfDigit);
  EXPECT_EQ(seen.x(), 0.0);
  EXPECT_EQ(seen.y(), 0.0);
}

}  // namespace
}  // namespace potshadow

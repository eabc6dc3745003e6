// SPDX-License-Identifier: MIT
// The profile curve: known B-spline values, its derivatives, and how near it comes to the shapes
// that vessels have.
#include "vessel/profile.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <random>
#include <string>
#include <vector>

namespace potshadow {
namespace {

constexpr double kPi = std::numbers::pi;
// Rounding of a handful of operations on weights of about one, with slack.
constexpr double kRounding = 1e-13;
// A central difference over 2e-5 of weights near one loses eleven of sixteen digits; slopes reach
// 3 x the number of spans, curvatures 6 x its square. Both are taken relative to those.
constexpr double kDifferenceStep = 1e-5;
constexpr double kDifference = 1e-9;
// How near 44 control points come to the smooth shapes below, in millimetres: the worst is 0.03, on
// the flat lip, whose throat of 12 mm radius sets in without easing over knots some 5 mm apart.
constexpr double kSmoothFitMm = 0.05;
// A sharp keel is rounded off between knots 3.4 mm apart, by 0.31 mm.
constexpr double kKeelFitMm = 0.4;
constexpr std::size_t kControls = 44;

// A basis spread out over all control points.
std::vector<double> spread(const ProfileBasis& basis, const std::array<double, 4>& part,
                           std::size_t count) {
  std::vector<double> all(count, 0.0);
  for (std::size_t j = 0; j < part.size(); ++j) all.at(basis.first + j) = part.at(j);
  return all;
}

TEST(ProfileBasis, FourPointsGiveBernsteinPolynomials) {
  // A clamped cubic without inner knots is a Bezier curve (de Boor 1978, chapter IX).
  int places = 0;
  for (int i = 0; i <= 10; ++i) {
    const double s = i / 10.0;
    const double t = 1.0 - s;
    const ProfileBasis basis = profile_basis(s, 4);
    EXPECT_EQ(basis.first, 0U);
    EXPECT_NEAR(basis.weight[0], t * t * t, kRounding);
    EXPECT_NEAR(basis.weight[1], 3.0 * s * t * t, kRounding);
    EXPECT_NEAR(basis.weight[2], 3.0 * s * s * t, kRounding);
    EXPECT_NEAR(basis.weight[3], s * s * s, kRounding);
    ++places;
  }
  EXPECT_EQ(places, 11);
}

TEST(ProfileBasis, InnerKnotsCarryOneFourOneSixths) {
  // The uniform cubic B-spline at its knots: 1/6, 4/6, 1/6 (de Boor 1978).
  constexpr std::size_t kCount = 12;  // nine spans
  int knots = 0;
  for (int k = 3; k <= 6; ++k) {
    const ProfileBasis basis = profile_basis(k / 9.0, kCount);
    const auto weight = spread(basis, basis.weight, kCount);
    const auto at = static_cast<std::size_t>(k);
    EXPECT_NEAR(weight[at], 1.0 / 6.0, kRounding);
    EXPECT_NEAR(weight[at + 1], 4.0 / 6.0, kRounding);
    EXPECT_NEAR(weight[at + 2], 1.0 / 6.0, kRounding);
    ++knots;
  }
  EXPECT_EQ(knots, 4);
}

TEST(ProfileBasis, WeightsAddUpToOneAndDerivativesToNothing) {
  int places = 0;
  for (const std::size_t count : {4U, 5U, 6U, 7U, 12U, 44U}) {
    const auto spans = static_cast<double>(count - 3);
    for (int i = 0; i <= 200; ++i) {
      const ProfileBasis basis = profile_basis(i / 200.0, count);
      ASSERT_LE(basis.first + 4, count);
      double weight = 0.0;
      double slope = 0.0;
      double curvature = 0.0;
      for (std::size_t j = 0; j < 4; ++j) {
        EXPECT_GE(basis.weight.at(j), -kRounding);
        weight += basis.weight.at(j);
        slope += basis.slope.at(j);
        curvature += basis.curvature.at(j);
      }
      EXPECT_NEAR(weight, 1.0, kRounding);
      EXPECT_NEAR(slope, 0.0, kRounding * 10.0 * spans);
      EXPECT_NEAR(curvature, 0.0, kRounding * 10.0 * spans * spans);
      ++places;
    }
  }
  EXPECT_EQ(places, 6 * 201);
}

TEST(ProfileBasis, DerivativesAreCentralDifferences) {
  int places = 0;
  for (const std::size_t count : {4U, 5U, 6U, 7U, 12U, 44U}) {
    const auto spans = static_cast<double>(count - 3);
    std::mt19937_64 random(count);
    std::uniform_real_distribution<double> within(0.01, 0.99);
    for (std::size_t span = 0; span + 3 < count; ++span) {
      // Inside a span, off the knots, where the third derivative jumps.
      const double s = (static_cast<double>(span) + within(random)) / spans;
      const ProfileBasis here = profile_basis(s, count);
      const ProfileBasis above = profile_basis(s + kDifferenceStep, count);
      const ProfileBasis below = profile_basis(s - kDifferenceStep, count);
      ASSERT_EQ(above.first, here.first);
      ASSERT_EQ(below.first, here.first);
      for (std::size_t j = 0; j < 4; ++j) {
        const double slope = (above.weight.at(j) - below.weight.at(j)) / (2.0 * kDifferenceStep);
        // The difference of a cubic is off by its third derivative: 6 spans^3 step^2 / 6 or less
        // than four times that at the clamped ends.
        const double cubic = 4.0 * std::pow(spans, 3) * kDifferenceStep * kDifferenceStep;
        EXPECT_NEAR(here.slope.at(j), slope, kDifference * spans + cubic);
        const double curvature = (above.slope.at(j) - below.slope.at(j)) / (2.0 * kDifferenceStep);
        EXPECT_NEAR(here.curvature.at(j), curvature, kDifference * spans * spans);
      }
      ++places;
    }
  }
  EXPECT_EQ(places, 1 + 2 + 3 + 4 + 9 + 41);
}

TEST(ProfileBasis, PlaceIsClamped) {
  EXPECT_EQ(profile_basis(-0.3, 9).weight, profile_basis(0.0, 9).weight);
  EXPECT_EQ(profile_basis(1.7, 9).weight, profile_basis(1.0, 9).weight);
  EXPECT_EQ(profile_basis(1.7, 9).first, profile_basis(1.0, 9).first);
  EXPECT_NEAR(profile_basis(1.0, 9).weight[3], 1.0, kRounding);
}

// Shapes of our own, as dense polylines in millimetres, base first.
class Path {
 public:
  explicit Path(ProfilePoint start) : points_{start} {}

  Path& line_to(ProfilePoint end) {
    const ProfilePoint start = points_.back();
    return follow([=](double t) -> ProfilePoint {
      return {start.radius_mm + t * (end.radius_mm - start.radius_mm),
              start.height_mm + t * (end.height_mm - start.height_mm)};
    });
  }
  // An arc round `centre` from one angle to another, in degrees from outwards to upwards.
  Path& arc(ProfilePoint centre, double radius, double from, double to) {
    return follow([=](double t) -> ProfilePoint {
      const double a = (from + t * (to - from)) * kPi / 180.0;
      return {centre.radius_mm + radius * std::cos(a), centre.height_mm + radius * std::sin(a)};
    });
  }
  // The radius as a function of the height, from the height reached so far.
  Path& wall(double to, const std::function<double(double)>& radius_at) {
    const double from = points_.back().height_mm;
    return follow([=](double t) -> ProfilePoint {
      const double z = from + t * (to - from);
      return {radius_at(z), z};
    });
  }
  const std::vector<ProfilePoint>& points() const { return points_; }

 private:
  Path& follow(const std::function<ProfilePoint(double)>& curve) {
    constexpr int kSteps = 150;
    for (int i = 1; i <= kSteps; ++i) points_.push_back(curve(i / double{kSteps}));
    return *this;
  }
  std::vector<ProfilePoint> points_;
};

struct NamedShape {
  std::string name;
  double fit_mm;
  std::vector<ProfilePoint> points;
};

std::vector<NamedShape> shapes() {
  const auto hump = [](double z, double middle, double half) {
    return (1.0 + std::cos(kPi * (z - middle) / half)) / 2.0;
  };
  const auto flared = [](double z) {
    return 60.0 + 30.0 * std::sin(2.0 * kPi * (0.9 * z / 200.0 - 0.05));
  };
  const auto bottle = [&](double z) {
    return 18.0 + (z < 120.0 ? 62.0 * hump(z, 50.0, 70.0) : 0.0) +
           (z > 190.0 ? 10.0 * std::pow((z - 190.0) / 20.0, 2) : 0.0);
  };
  const auto everted = [&](double z) { return 60.0 + 30.0 * hump(z, 70.0, 80.0); };
  const double seed_base = std::sqrt(90.0 * 90.0 - 70.0 * 70.0);
  const double seed_from = -std::asin(70.0 / 90.0) * 180.0 / kPi;

  std::vector<NamedShape> all;
  all.push_back(
      {"flared rim", kSmoothFitMm, Path({flared(0.0), 0.0}).wall(200.0, flared).points()});
  all.push_back({"inturned rim", kSmoothFitMm,
                 Path({seed_base, 0.0}).arc({0.0, 70.0}, 90.0, seed_from, 60.0).points()});
  all.push_back(
      {"tall narrow neck", kSmoothFitMm, Path({bottle(0.0), 0.0}).wall(210.0, bottle).points()});
  all.push_back(
      {"open bowl", kSmoothFitMm, Path({40.0, 0.0}).arc({40.0, 80.0}, 80.0, -90.0, 0.0).points()});
  all.push_back({"flat everted lip", kSmoothFitMm,
                 Path({everted(0.0), 0.0})
                     .wall(150.0, everted)
                     .arc({72.0, 150.0}, 12.0, 180.0, 90.0)
                     .line_to({90.0, 162.0})
                     .points()});
  all.push_back({"sharp keel", kKeelFitMm,
                 Path({40.0, 0.0}).line_to({100.0, 60.0}).line_to({80.0, 110.0}).points()});
  all.push_back(
      {"round base", kSmoothFitMm,
       Path({0.0, 0.0}).arc({0.0, 90.0}, 90.0, -90.0, 0.0).line_to({90.0, 150.0}).points()});
  all.push_back({"flat base", kSmoothFitMm, Path({50.0, 0.0}).line_to({70.0, 160.0}).points()});
  return all;
}

double distance_to(const ProfilePoint& p, const std::vector<ProfilePoint>& polyline) {
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i + 1 < polyline.size(); ++i) {
    const ProfilePoint& a = polyline[i];
    const double dr = polyline[i + 1].radius_mm - a.radius_mm;
    const double dz = polyline[i + 1].height_mm - a.height_mm;
    const double size = dr * dr + dz * dz;
    const double along = (p.radius_mm - a.radius_mm) * dr + (p.height_mm - a.height_mm) * dz;
    const double t = size > 0.0 ? std::clamp(along / size, 0.0, 1.0) : 0.0;
    nearest = std::min(nearest, std::hypot(p.radius_mm - a.radius_mm - t * dr,
                                           p.height_mm - a.height_mm - t * dz));
  }
  return nearest;
}

double farthest(const std::vector<ProfilePoint>& from, const std::vector<ProfilePoint>& to) {
  double far = 0.0;
  for (const ProfilePoint& p : from) far = std::max(far, distance_to(p, to));
  return far;
}

TEST(Profile, FollowsEveryShape) {
  int followed = 0;
  for (const NamedShape& shape : shapes()) {
    const auto profile = Profile::through(shape.points, kControls);
    ASSERT_TRUE(profile.ok()) << shape.name;
    EXPECT_EQ(profile->controls().size(), kControls);
    EXPECT_EQ(profile->at(0.0), shape.points.front()) << shape.name;
    EXPECT_NEAR(profile->at(1.0).radius_mm, shape.points.back().radius_mm, 1000.0 * kRounding);
    EXPECT_NEAR(profile->at(1.0).height_mm, shape.points.back().height_mm, 1000.0 * kRounding);
    // Both ways: no part of the shape is left out and the curve strays nowhere.
    const std::vector<ProfilePoint> curve = profile->sampled(1001);
    EXPECT_LT(farthest(shape.points, curve), shape.fit_mm) << shape.name;
    EXPECT_LT(farthest(curve, shape.points), shape.fit_mm) << shape.name;
    ++followed;
  }
  EXPECT_EQ(followed, 8);
}

TEST(Profile, ThroughALineIsTheLine) {
  const auto profile = Profile::through({{50.0, 0.0}, {70.0, 160.0}}, 12);
  ASSERT_TRUE(profile.ok());
  constexpr double kLineMm = 1e-4;  // the clamped ends bunch the control points: smoothing's trace
  int places = 0;
  for (int i = 0; i <= 20; ++i) {
    const double s = i / 20.0;
    EXPECT_NEAR(profile->at(s).radius_mm, 50.0 + 20.0 * s, kLineMm);
    EXPECT_NEAR(profile->at(s).height_mm, 160.0 * s, kLineMm);
    ++places;
  }
  EXPECT_EQ(places, 21);
}

TEST(Profile, ThroughRefusesWhatIsNoProfile) {
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  const auto code_of = [](const std::vector<ProfilePoint>& points) {
    const auto profile = Profile::through(points, 12);
    EXPECT_FALSE(profile.ok());
    return profile.ok() ? Code::kFileMissing : profile.problem().code;
  };
  EXPECT_EQ(code_of({}), Code::kTooFewMarks);
  EXPECT_EQ(code_of({{50.0, 0.0}}), Code::kTooFewMarks);
  EXPECT_EQ(code_of({{50.0, 10.0}, {50.0, 10.0}, {50.0, 10.0}}), Code::kTooFewMarks);
  EXPECT_EQ(code_of({{50.0, 0.0}, {-1.0, 10.0}}), Code::kBadValue);
  EXPECT_EQ(code_of({{50.0, 0.0}, {40.0, kNan}}), Code::kBadValue);
}

TEST(Profile, FromControlsKeepsThemOrRefuses) {
  const std::vector<ProfilePoint> good{{30.0, 0.0}, {60.0, 20.0}, {55.0, 70.0}, {40.0, 90.0}};
  const auto profile = Profile::from_controls(good);
  ASSERT_TRUE(profile.ok());
  EXPECT_EQ(profile->controls(), good);

  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  std::vector<std::vector<ProfilePoint>> bad{{}, {good.begin(), good.begin() + 3}};
  for (const ProfilePoint wrong : {ProfilePoint{-0.1, 5.0}, ProfilePoint{kNan, 5.0},
                                   ProfilePoint{5.0, kNan}, ProfilePoint{kInfinity, 5.0}}) {
    bad.push_back(good);
    bad.back()[2] = wrong;
  }
  int refused = 0;
  for (const auto& controls : bad) {
    const auto result = Profile::from_controls(controls);
    ASSERT_FALSE(result.ok());
    EXPECT_EQ(result.problem().code, Code::kBadValue);
    EXPECT_FALSE(result.problem().what.empty());
    EXPECT_FALSE(result.problem().next.empty());
    ++refused;
  }
  EXPECT_EQ(refused, 6);
}

TEST(Profile, NormalPointsOutwards) {
  // On a sphere standing on the shelf the outward normal is the direction from its centre.
  const auto profile =
      Profile::through(Path({0.0, 0.0}).arc({0.0, 90.0}, 90.0, -90.0, 60.0).points(), kControls);
  ASSERT_TRUE(profile.ok());
  constexpr double kNormal = 5e-4;  // the fit is 0.002 mm off over 5 mm between knots
  int places = 0;
  for (int i = 1; i < 20; ++i) {
    const double s = i / 20.0;
    const ProfilePoint p = profile->at(s);
    const ProfilePoint n = profile->normal_at(s);
    EXPECT_NEAR(n.radius_mm, p.radius_mm / 90.0, kNormal);
    EXPECT_NEAR(n.height_mm, (p.height_mm - 90.0) / 90.0, kNormal);
    EXPECT_NEAR(std::hypot(n.radius_mm, n.height_mm), 1.0, kRounding);
    ++places;
  }
  EXPECT_EQ(places, 19);
}

TEST(Profile, NormalWhereTheCurveStandsStill) {
  const auto still =
      Profile::from_controls({{50.0, 10.0}, {50.0, 10.0}, {50.0, 10.0}, {50.0, 10.0}});
  ASSERT_TRUE(still.ok());
  EXPECT_EQ(still->normal_at(0.5), (ProfilePoint{1.0, 0.0}));
}

TEST(Profile, SampledStepsEvenlyFromBaseToRim) {
  const auto profile =
      Profile::from_controls({{30.0, 0.0}, {60.0, 20.0}, {70.0, 50.0}, {55.0, 70.0}, {40.0, 90.0}});
  ASSERT_TRUE(profile.ok());
  const auto points = profile->sampled(5);
  ASSERT_EQ(points.size(), 5U);
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_EQ(points[i], profile->at(static_cast<double>(i) / 4.0));
  }
  EXPECT_EQ(points.front(), (ProfilePoint{30.0, 0.0}));
}

TEST(Profile, ScaledMultipliesEveryLength) {
  const auto profile =
      Profile::from_controls({{30.0, 0.0}, {60.0, 20.0}, {70.0, 50.0}, {55.0, 70.0}, {40.0, 90.0}});
  ASSERT_TRUE(profile.ok());
  const double factor = 1.0 / 0.88;  // 12 % shrinkage
  const Profile larger = profile->scaled(factor);
  int places = 0;
  for (int i = 0; i <= 10; ++i) {
    const double s = i / 10.0;
    EXPECT_NEAR(larger.at(s).radius_mm, factor * profile->at(s).radius_mm, 1000.0 * kRounding);
    EXPECT_NEAR(larger.at(s).height_mm, factor * profile->at(s).height_mm, 1000.0 * kRounding);
    EXPECT_NEAR(larger.normal_at(s).radius_mm, profile->normal_at(s).radius_mm, kRounding * 10.0);
    ++places;
  }
  EXPECT_EQ(places, 11);
  EXPECT_EQ(profile->scaled(1.0), *profile);
  EXPECT_FALSE(larger == *profile);
}

TEST(ProfileDeathTest, MisuseStopsTheProgram) {
  GTEST_FLAG_SET(death_test_style, "threadsafe");
  EXPECT_DEATH(static_cast<void>(profile_basis(0.5, 3)), "internal check failed");
  const auto profile =
      Profile::from_controls({{30.0, 0.0}, {60.0, 20.0}, {55.0, 70.0}, {40.0, 90.0}});
  ASSERT_TRUE(profile.ok());
  EXPECT_DEATH(static_cast<void>(profile->scaled(0.0)), "internal check failed");
  EXPECT_DEATH(static_cast<void>(profile->sampled(1)), "internal check failed");
}

}  // namespace
}  // namespace potshadow

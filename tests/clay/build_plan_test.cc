// SPDX-License-Identifier: MIT
#include "clay/build_plan.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <limits>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include "core/temporary_folder.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

constexpr double kMm3PerMl = 1000.0;
constexpr double kPi = std::numbers::pi;

BodyFigures unknown_clay() {
  ClayBody body;
  body.record = "unknown";
  return *body_figures(body, {}, std::nullopt);
}

Profile profile_of(std::vector<ProfilePoint> controls) {
  return Profile::from_controls(std::move(controls)).value();
}

// Straight walls: control points in one line make a straight spline.
Profile cylinder(double radius, double height) {
  std::vector<ProfilePoint> controls;
  for (int i = 0; i <= 6; ++i) controls.push_back({radius, height * i / 6.0});
  return profile_of(controls);
}

Profile jar() {
  return profile_of({{60, 0}, {95, 40}, {130, 110}, {125, 180}, {70, 215}, {72, 240}, {85, 260}});
}
Profile bowl() { return profile_of({{50, 0}, {85, 20}, {120, 55}, {135, 100}}); }
Profile round_pot() { return profile_of({{0, 0}, {70, 0}, {130, 60}, {120, 160}, {80, 190}}); }

PlanRequest request_for(const Profile& profile) {
  return {.wet_profile = profile,
          .wall = {8.0, 8.0},
          .cradle_height_mm = std::nullopt,
          .clay = unknown_clay()};
}

// Pappus: a circle of radius 20 turned at 60 from the axis makes 2 pi^2 R r^2 = 473.741 ml.
TEST(Turned, ATorusHasItsVolume) {
  constexpr int kCorners = 20000;
  constexpr double kPolygon = 1e-6;  // of a circle by that many corners: (2 pi / n)^2 / 6
  std::vector<ProfilePoint> circle;
  for (int i = 0; i < kCorners; ++i) {
    const double a = 2.0 * kPi * i / kCorners;
    circle.push_back({60.0 + 20.0 * std::cos(a), 50.0 + 20.0 * std::sin(a)});
  }
  const TurnedFigure torus = turned(circle);
  EXPECT_NEAR(torus.volume_mm3 / kMm3PerMl, 473.741, 473.741 * kPolygon + 0.0005);
  EXPECT_NEAR(middle_radius(torus), 60.0, 1e-6);
}

// pi h (r1^2 + r1 r2 + r2^2) / 3: radii 80 and 50, 120 high, 1621.06 ml.
TEST(Turned, AFrustumHasItsVolume) {
  const TurnedFigure frustum = turned({{0, 0}, {80, 0}, {50, 120}, {0, 120}});
  EXPECT_NEAR(frustum.volume_mm3 / kMm3PerMl, 1621.06, 0.005);
}

// A straight beaker is three cylinders: outside, inside, and nothing else.
TEST(Wall, OfABeakerIsExact) {
  const auto wall = wall_of(cylinder(50.0, 120.0), {6.0, 6.0});
  ASSERT_TRUE(wall.ok());
  constexpr double kRounding = 1e-9;
  const double outside = kPi * 50.0 * 50.0 * 120.0;
  const double inside = kPi * 44.0 * 44.0 * 114.0;
  EXPECT_NEAR(clay_volume(*wall) / (outside - inside), 1.0, kRounding);
  EXPECT_NEAR(wall->capacity_mm3 / inside, 1.0, kRounding);
}

// The capacity of vessel/sizes.h erodes the outside by balls; here the inner face is offset.
TEST(Wall, LeavesTheRoomThatTheCapacitySays) {
  // Corners that balls round off and an offset does not.
  constexpr double kRoom = 5e-3;
  // Of the clay: that of the capacity goes on to the brim, the wall ends square at the lip.
  constexpr double kLip = 0.02;
  int shapes = 0;
  for (const Profile& profile : {jar(), bowl(), round_pot(), cylinder(70.0, 150.0)}) {
    const auto wall = wall_of(profile, {7.0, 7.0});
    ASSERT_TRUE(wall.ok());
    const double capacity = capacity_ml(profile, Mm{7.0});
    const double outside = frusta_volume_ml(wall->outer);
    EXPECT_NEAR(wall->capacity_mm3 / kMm3PerMl / capacity, 1.0, kRoom);
    EXPECT_NEAR(clay_volume(*wall) / kMm3PerMl / (outside - capacity), 1.0, kLip);
    ++shapes;
  }
  EXPECT_EQ(shapes, 4);
}

// Writes the turned outline as a mesh of flat triangles, outside outwards.
void write_mesh(const std::vector<ProfilePoint>& outline, const std::filesystem::path& file) {
  constexpr int kSides = 120;
  std::ofstream out(file);
  out.precision(12);
  const auto corner = [&](const ProfilePoint& p, int side) {
    const double a = 2.0 * kPi * (side % kSides) / kSides;
    out << "vertex " << p.radius_mm * std::cos(a) << " " << p.radius_mm * std::sin(a) << " "
        << p.height_mm << "\n";
  };
  out << "solid wall\n";
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const ProfilePoint& a = outline[i];
    const ProfilePoint& b = outline[(i + 1) % outline.size()];
    for (int side = 0; side < kSides; ++side) {
      const auto facet = [&](const ProfilePoint& p, int ps, const ProfilePoint& q, int qs,
                             const ProfilePoint& r, int rs) {
        out << "facet normal 0 0 0\nouter loop\n";
        corner(p, ps);
        corner(q, qs);
        corner(r, rs);
        out << "endloop\nendfacet\n";
      };
      if (a.radius_mm > 0.0) facet(a, side, a, side + 1, b, side);
      if (b.radius_mm > 0.0) facet(a, side + 1, b, side + 1, b, side);
    }
  }
  out << "endsolid wall\n";
}

// An independent tool, admesh, works out the volume of the wall as a mesh.
TEST(Wall, AMeshOfItHasItsVolume) {
  ASSERT_EQ(std::system("command -v admesh > /dev/null 2>&1"), 0)
      << "admesh is missing: install the package admesh";
  constexpr double kTwoPerMille = 2e-3;
  const TemporaryFolder folder;
  int shapes = 0;
  for (const Profile& profile : {jar(), bowl()}) {
    const WallThickness thickness{9.0, 6.0};
    const auto wall = wall_of(profile, thickness);
    ASSERT_TRUE(wall.ok());
    std::vector<ProfilePoint> outline{{0.0, 0.0}};
    constexpr std::size_t kEach = 20;
    for (std::size_t i = 0; i < wall->outer.size(); i += kEach) outline.push_back(wall->outer[i]);
    for (std::size_t i = wall->inner.size(); i-- > 0;) {
      if (i % kEach == 0 && wall->inner[i].height_mm > thickness.foot_mm) {
        outline.push_back(wall->inner[i]);
      }
    }
    outline.push_back({outline.back().radius_mm, thickness.foot_mm});
    outline.push_back({0.0, thickness.foot_mm});
    const auto file = folder.path() / "wall.stl";
    write_mesh(outline, file);
    const auto said = folder.path() / "said.txt";
    const std::string command = "admesh '" + file.string() + "' > '" + said.string() + "' 2>&1";
    ASSERT_EQ(std::system(command.c_str()), 0);
    std::stringstream text;
    text << std::ifstream(said).rdbuf();
    const std::string words = text.str();
    const std::size_t at = words.find("Volume");
    ASSERT_NE(at, std::string::npos) << words;
    const double volume = std::abs(std::stod(words.substr(words.find(':', at) + 1)));
    EXPECT_NEAR(clay_volume(*wall) / volume, 1.0, kTwoPerMille);
    ++shapes;
  }
  EXPECT_EQ(shapes, 2);
}

// A round coil of 12 mm: 8.842 m of it make a litre, worked out by hand.
TEST(Coils, ALitreIsNearlyNineMetres) {
  PlanRequest request = request_for(cylinder(70.0, 200.0));
  const auto plan = build_plan(request);
  ASSERT_TRUE(plan.ok());
  ASSERT_GT(plan->coils.size(), 3U);
  const Coil& coil = plan->coils[1];
  EXPECT_NEAR(coil.length_mm / 1000.0 / (coil.clay_mm3 / 1e6), 8.842, 0.0005);
  // In a straight wall 8 mm thick a coil makes pi 12^2 / 4 / 8 = 14.1 mm of height.
  EXPECT_NEAR(coil.high_mm - coil.low_mm, kPi * 144.0 / 4.0 / 8.0, 1e-6);
  EXPECT_NEAR(coil.girth_mm, 2.0 * kPi * 70.0, 1e-6);
  EXPECT_NEAR(coil.length_mm, 2.0 * kPi * 66.0, 1e-6);
  EXPECT_NEAR(coil.lean_deg, 0.0, 1e-9);
}

TEST(Coils, AndTheCradlesPieceMakeTheWholeWall) {
  constexpr double kOnePercent = 0.01;
  int shapes = 0;
  for (const Profile& profile : {jar(), bowl(), round_pot()}) {
    PlanRequest request = request_for(profile);
    request.wall = {9.0, 6.0};
    request.coil_mm = 14.0;
    const auto plan = build_plan(request);
    ASSERT_TRUE(plan.ok()) << plan.problem().what;
    double sum = plan->cradle.clay_mm3;
    double top = plan->cradle.line_mm;
    for (const Coil& coil : plan->coils) {
      EXPECT_NEAR(coil.low_mm, top, 1e-9);
      top = coil.high_mm;
      // As rolled: its own length and thickness.
      const double thick = request.coil_mm * coil.part;
      sum += kPi * thick * thick / 4.0 * coil.length_mm;
    }
    EXPECT_NEAR(sum / plan->clay_mm3, 1.0, kOnePercent);
    EXPECT_NEAR(top, sizes_of(profile).height_mm, 1.0);
    ++shapes;
  }
  EXPECT_EQ(shapes, 3);
}

TEST(Cradle, FitsTheLowerProfile) {
  PlanRequest request = request_for(jar());
  request.cradle_height_mm = 60.0;
  const auto plan = build_plan(request);
  ASSERT_TRUE(plan.ok());
  EXPECT_EQ(plan->cradle.depth_mm, 60.0);
  EXPECT_EQ(plan->cradle.floor_mm, 120.0);
  // Where the profile passes 60 mm, by halving.
  double low = 0.0;
  double high = 0.5;
  for (int i = 0; i < 60; ++i) {
    const double s = (low + high) / 2.0;
    (jar().at(s).height_mm < 60.0 ? low : high) = s;
  }
  EXPECT_NEAR(plan->cradle.diameter_mm, 2.0 * jar().at(low).radius_mm, 0.01);
}

TEST(Sag, IsNamedAtTheShoulder) {
  const auto plan = build_plan(request_for(jar()));
  ASSERT_TRUE(plan.ok() && plan->sag);
  const double widest = sizes_of(jar()).height_of_max_mm;
  EXPECT_GT(plan->sag->height_mm, widest - 40.0);
  EXPECT_LT(plan->sag->height_mm, 215.0);
  EXPECT_LT(plan->sag->above_deg, plan->sag->below_deg);
  EXPECT_LT(plan->sag->steepest_deg, -40.0);
  const auto open = build_plan(request_for(bowl()));
  ASSERT_TRUE(open.ok());
  EXPECT_FALSE(open->sag.has_value());
}

TEST(Weights, FollowFromVolumeWaterAndLoss) {
  ClayBody body;
  body.record = "known";
  body.stated.push_back({Stage::kWet, Stage::kFired, 10.0, 0.0});
  body.water_percent = StatedValue{25.0, 0.0};
  PlanRequest request = request_for(cylinder(50.0, 120.0));
  request.wall = {6.0, 6.0};
  request.wall_sd_mm = 0.0;
  request.clay = *body_figures(body, {}, std::nullopt);
  request.clay.ignition_percent.measured = normal_measured(8.0, 0.0);
  const auto plan = build_plan(request);
  ASSERT_TRUE(plan.ok());
  const double clay_ml = kPi * (2500.0 * 120.0 - 44.0 * 44.0 * 114.0) / kMm3PerMl;
  // 25 % of water: 1.992 g/cm3, and a tenth more than the pot holds.
  EXPECT_NEAR(plan->weigh_out_g.value / (1.1 * clay_ml), 1.992, 0.0005);
  EXPECT_NEAR(plan->dry_g.value * 1.25, plan->weigh_out_g.value, 1e-6);
  EXPECT_NEAR(plan->dry_g.value + plan->water_g.value, plan->weigh_out_g.value, 1e-6);
  EXPECT_NEAR(plan->empty_g.value, plan->dry_g.value / 1.1 * 0.92, 1e-6);
  EXPECT_NEAR(plan->capacity_ml.value, kPi * 44.0 * 44.0 * 114.0 / kMm3PerMl * 0.729, 1e-6);
  EXPECT_NEAR(plan->brim_full_g.value, plan->empty_g.value + plan->capacity_ml.value, 1e-6);
  // An uneven hand makes every weight less sure.
  PlanRequest uneven = request;
  uneven.wall_sd_mm = 1.0;
  EXPECT_GT(build_plan(uneven)->weigh_out_g.sd, 5.0 * plan->weigh_out_g.sd);
}

TEST(BadPlan, IsRefusedWithAdvice) {
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  struct Bad {
    std::string says;
    PlanRequest request;
  };
  std::vector<Bad> bad;
  const auto add = [&](const std::string& says, const auto& change) {
    PlanRequest request = request_for(jar());
    change(request);
    bad.push_back({says, request});
  };
  add("thicker than the vessel's radius", [](PlanRequest& r) {
    r.wall = {80.0, 80.0};
    r.coil_mm = 90.0;
  });
  add("cannot be 0.0 mm thick", [](PlanRequest& r) { r.wall.foot_mm = 0.0; });
  add("cannot be 0.5 mm thick", [](PlanRequest& r) { r.wall.rim_mm = 0.5; });
  add("thick", [&](PlanRequest& r) { r.wall.rim_mm = kNan; });
  add("cannot make a wall", [](PlanRequest& r) { r.coil_mm = 5.0; });
  add("too thick for a pot", [](PlanRequest& r) { r.coil_mm = 500.0; });
  add("allowance", [](PlanRequest& r) { r.allowance_percent = 250.0; });
  add("larger than the vessel", [](PlanRequest& r) { r.cradle_height_mm = 400.0; });
  add("could not be lifted", [](PlanRequest& r) { r.cradle_height_mm = 200.0; });
  add("cannot be -5 mm deep", [](PlanRequest& r) { r.cradle_height_mm = -5.0; });
  add("to within", [](PlanRequest& r) { r.wall_sd_mm = 20.0; });
  int checked = 0;
  for (const Bad& each : bad) {
    const auto plan = build_plan(each.request);
    ASSERT_FALSE(plan.ok()) << each.says;
    EXPECT_EQ(plan.problem().code, Code::kBadValue) << each.says;
    EXPECT_THAT(plan.problem().what, HasSubstr(each.says));
    EXPECT_TRUE(plan.problem().next.ends_with("."));
    ++checked;
  }
  EXPECT_EQ(checked, 11);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "patterns/curves.h"
#include "patterns/inner_face.h"
#include "patterns/pattern_kinds.h"
#include "pots.h"

namespace potshadow {
namespace {

using test::beaker;
using test::necked_jar;
using testing::HasSubstr;

// Twice kPatternToleranceMm, within which curves keep, and the size of a step of the wall's points.
constexpr double kCurveMm = 0.02;

const PatternPath& cut_of(const Pattern& pattern) {
  const auto found = std::find_if(pattern.paths.begin(), pattern.paths.end(),
                                  [](const auto& path) { return path.line == PatternLine::kCut; });
  EXPECT_NE(found, pattern.paths.end());
  return *found;
}

std::vector<Pattern> pieces_of(PatternKind kind, const PatternVessel& vessel,
                               const PatternChoices& choices = {}) {
  const Result<std::vector<Pattern>> pieces = patterns_of(kind, vessel, choices);
  EXPECT_TRUE(pieces.ok()) << (pieces.ok() ? "" : pieces.problem().what);
  return pieces.ok() ? *pieces : std::vector<Pattern>{};
}

// Distance from a place to the nearest side of a closed path.
double distance_to(const PatternPath& path, double x, double y) {
  double least = 1e9;
  for (std::size_t i = 0; i < path.points.size(); ++i) {
    const PatternPoint& a = path.points[i];
    const PatternPoint& b = path.points[(i + 1) % path.points.size()];
    const double dx = b.x_mm - a.x_mm;
    const double dy = b.y_mm - a.y_mm;
    const double length2 = dx * dx + dy * dy;
    double t = length2 > 0.0 ? ((x - a.x_mm) * dx + (y - a.y_mm) * dy) / length2 : 0.0;
    t = std::clamp(t, 0.0, 1.0);
    least = std::min(least, std::hypot(x - a.x_mm - t * dx, y - a.y_mm - t * dy));
  }
  return least;
}

TEST(Patterns, ProfileFollowsTheVesselEnlarged) {
  for (const bool left : {false, true}) {
    PatternChoices choices;
    choices.left_handed = left;
    const PatternVessel vessel = necked_jar(12.0);
    const std::vector<Pattern> pieces = pieces_of(PatternKind::kProfile, vessel, choices);
    ASSERT_EQ(pieces.size(), 1U);
    int looked = 0;
    for (int i = 0; i <= 200; ++i) {
      const ProfilePoint p = vessel.fired.at(i / 200.0);
      const double x = (left ? -1.0 : 1.0) * p.radius_mm / 0.88;
      EXPECT_LT(distance_to(cut_of(pieces[0]), x, p.height_mm / 0.88), kCurveMm);
      ++looked;
    }
    EXPECT_EQ(looked, 201);
  }
}

// The beaker is 120 mm high and 160 wide at its rim.
TEST(Patterns, HeightsAndDiametersGoByTheirOwnShrinkage) {
  const auto along = [](double fraction, double sd) {
    return normal_shrinkage(Stage::kWet, Stage::kFired, fraction, sd);
  };
  PatternVessel vessel = beaker(15.0);
  vessel.shrinkage = vessel.shrinkage.with_ways(along(0.2, 0.0), along(0.1, 0.0)).value();
  const std::vector<Pattern> pieces = pieces_of(PatternKind::kProfile, vessel);
  ASSERT_EQ(pieces.size(), 1U);
  int looked = 0;
  for (int i = 0; i <= 200; ++i) {
    const ProfilePoint p = vessel.fired.at(i / 200.0);
    EXPECT_LT(distance_to(cut_of(pieces[0]), p.radius_mm / 0.9, p.height_mm / 0.8), kCurveMm);
    ++looked;
  }
  EXPECT_EQ(looked, 201);

  // A wall that stands upright moves out by what the diameters' shrinkage is doubtful by; a flat
  // place moves up by what the heights' one is. 1.96 x 80 / 0.9 x 0.009 / 0.9 is 1.742.
  const auto doubtful = vessel.shrinkage.with_ways(along(0.2, 0.008), along(0.1, 0.009)).value();
  constexpr double kRounding = 1e-3;
  const auto upright = band_points({{0.0, 80.0, 0.0}, {120.0, 80.0, 0.0}}, doubtful).value();
  EXPECT_NEAR(upright.at(1).half_mm, 1.742, kRounding);
  const auto flat = band_points({{120.0, 40.0, 0.0}, {120.0, 80.0, 0.0}}, doubtful).value();
  EXPECT_NEAR(flat.at(1).half_mm, 1.96 * 120.0 / 0.8 * 0.008 / 0.8, kRounding);
  // The photograph's doubt is stretched with the wall.
  const auto exact = vessel.shrinkage;
  EXPECT_NEAR(band_points({{0.0, 80.0, 1.0}, {120.0, 80.0, 1.0}}, exact)->at(0).half_mm, 1.96 / 0.9,
              kRounding);
  EXPECT_NEAR(band_points({{120.0, 40.0, 1.0}, {120.0, 80.0, 1.0}}, exact)->at(0).half_mm,
              1.96 / 0.8, kRounding);
}

TEST(Patterns, WholeGaugeMeetsOnTheCentreLine) {
  PatternChoices choices;
  choices.whole = true;
  const std::vector<Pattern> pieces = pieces_of(PatternKind::kProfile, necked_jar(), choices);
  ASSERT_EQ(pieces.size(), 2U);
  EXPECT_NEAR(box_of(pieces[0]).right_mm, 0.0, 1e-9);
  EXPECT_NEAR(box_of(pieces[1]).left_mm, 0.0, 1e-9);
  EXPECT_NEAR(box_of(pieces[0]).width(), box_of(pieces[1]).width(), 1e-9);
}

TEST(Patterns, RibOfAStraightWallIsParallelToIt) {
  const std::vector<Pattern> pieces = pieces_of(PatternKind::kRib, beaker());
  ASSERT_EQ(pieces.size(), 1U);
  // The inner face: 6 mm inside the line from (50, 0) to (80, 120), above a floor of 6 mm.
  const double length = std::hypot(30.0, 120.0);
  int looked = 0;
  for (double t = 0.1; t < 0.95; t += 0.05) {
    const double x = 50.0 + 30.0 * t - 6.0 * 120.0 / length;
    const double y = 120.0 * t + 6.0 * 30.0 / length;
    EXPECT_LT(distance_to(cut_of(pieces[0]), x, y), kCurveMm) << t;
    ++looked;
  }
  EXPECT_GT(looked, 15);
  EXPECT_NEAR(box_of(pieces[0]).bottom_mm, 6.0, 0.1);
}

TEST(Patterns, RibGoesThroughTheMouth) {
  const PatternVessel vessel = necked_jar(12.0);
  const std::vector<Pattern> pieces = pieces_of(PatternKind::kRib, vessel);
  ASSERT_EQ(pieces.size(), 1U);
  const Result<std::vector<ProfilePoint>> face = inner_face(vessel.to_make(), vessel.wall);
  ASSERT_TRUE(face.ok());
  double mouth = 1e9;
  for (const ProfilePoint& p : *face) {
    if (p.height_mm > 150.0) mouth = std::min(mouth, p.radius_mm);
  }
  EXPECT_LT(box_of(pieces[0]).width(), 2.0 * mouth);
}

TEST(Patterns, RingsHaveTheDiametersInside) {
  const PatternVessel vessel = beaker(10.0);
  const std::vector<Pattern> halves = pieces_of(PatternKind::kRings, vessel);
  ASSERT_EQ(halves.size(), 4U);  // two halves each for foot and rim
  PatternChoices choices;
  choices.whole = true;
  // The rim is the widest place, so its ring slips on; to the foot none does.
  const std::vector<Pattern> rings = pieces_of(PatternKind::kRings, vessel, choices);
  ASSERT_EQ(rings.size(), 3U);
  for (const auto& [ring, radius] :
       {std::pair{&halves[0], 50.0 / 0.9}, {&halves[2], 80.0 / 0.9}, {&rings[2], 80.0 / 0.9}}) {
    double least = 1e9;
    for (const PatternPoint& p : cut_of(*ring).points) {
      least = std::min(least, std::hypot(p.x_mm, p.y_mm));
    }
    EXPECT_NEAR(least, radius, 1e-9) << ring->name;
  }
}

TEST(Patterns, CirclesKeepWithinTheTolerance) {
  for (const double radius : {2.0, 40.0, 160.0, 600.0}) {
    const PatternPath circle = circle_path({3.0, 4.0}, radius, PatternLine::kCut);
    for (std::size_t i = 0; i < circle.points.size(); ++i) {
      const PatternPoint& a = circle.points[i];
      const PatternPoint& b = circle.points[(i + 1) % circle.points.size()];
      const double x = (a.x_mm + b.x_mm) / 2.0 - 3.0;
      const double y = (a.y_mm + b.y_mm) / 2.0 - 4.0;
      EXPECT_GE(std::hypot(x, y), radius - kPatternToleranceMm - 1e-9);
    }
  }
}

TEST(Patterns, StickMarksEveryHeight) {
  const PatternVessel vessel = beaker(10.0);
  const std::vector<Pattern> pieces = pieces_of(PatternKind::kStick, vessel);
  ASSERT_EQ(pieces.size(), 1U);
  const double right = box_of(pieces[0]).right_mm;
  int marks = 0;
  for (const PatternPath& path : pieces[0].paths) {
    if (path.line != PatternLine::kMark || path.points.back().x_mm != right) continue;
    EXPECT_NEAR(path.points.front().y_mm, 120.0 / 0.9, 1e-9);
    ++marks;
  }
  EXPECT_EQ(marks, 1);  // the rim; the foot stands on the bench
}

TEST(Patterns, CradleFollowsTheFootUpToItsLine) {
  PatternChoices choices;
  choices.cradle_mm = 30.0;
  const PatternVessel vessel = beaker();
  const std::vector<Pattern> pieces = pieces_of(PatternKind::kCradle, vessel, choices);
  ASSERT_EQ(pieces.size(), 1U);
  EXPECT_LT(distance_to(cut_of(pieces[0]), 50.0 + 30.0 * 0.125, 15.0), kCurveMm);
  EXPECT_LT(distance_to(cut_of(pieces[0]), 50.0 + 30.0 * 0.25, 30.0), kCurveMm);
  choices.cradle_mm = 130.0;
  EXPECT_FALSE(patterns_of(PatternKind::kCradle, vessel, choices).ok());
}

TEST(Patterns, LidFitsTheMouthWithItsClearance) {
  PatternChoices choices;
  choices.lid_clearance_mm = 2.0;
  const std::vector<Pattern> pieces = pieces_of(PatternKind::kLid, beaker(), choices);
  ASSERT_EQ(pieces.size(), 4U);
  // The mouth is narrowest at the flange's foot, 10 mm below the lip.
  const double mouth = box_of(pieces[0]).right_mm;
  EXPECT_NEAR(mouth, 80.0 - 6.0 * 120.0 / std::hypot(30.0, 120.0) - 10.0 * 30.0 / 120.0, 0.1);
  EXPECT_NEAR(box_of(pieces[1]).right_mm, 80.0, 1e-9);
  EXPECT_NEAR(cut_of(pieces[2]).points.front().x_mm, mouth - 2.0, 1e-9);
}

TEST(Patterns, SectionShowsTheOriginalAtItsScale) {
  PatternChoices choices;
  choices.section_scale = 0.5;
  const std::vector<Pattern> pieces = pieces_of(PatternKind::kSection, beaker(10.0), choices);
  ASSERT_EQ(pieces.size(), 1U);
  double widest = 0.0;
  double highest = 0.0;
  for (const PatternPath& path : pieces[0].paths) {
    if (path.line != PatternLine::kBold) continue;
    for (const PatternPoint& p : path.points) {
      widest = std::max(widest, p.x_mm);
      highest = std::max(highest, p.y_mm);
    }
  }
  EXPECT_NEAR(widest, 40.0, 1e-9);
  EXPECT_NEAR(highest, 60.0 + 0.5 * 6.0 * 30.0 / std::hypot(30.0, 120.0), 1.0);
  // Left of the axis the wall is solid.
  const bool solid_left =
      std::any_of(pieces[0].areas.begin(), pieces[0].areas.end(), [](const PatternArea& area) {
        return area.solid && std::all_of(area.points.begin(), area.points.end(),
                                         [](const auto& p) { return p.x_mm <= 1e-9; });
      });
  EXPECT_TRUE(solid_left);
}

TEST(Patterns, WallSectionHasPappussArea) {
  const PatternVessel vessel = beaker();
  const Result<std::vector<ProfilePoint>> section = wall_section(vessel.fired, vessel.wall, 0.001);
  ASSERT_TRUE(section.ok());
  double twice = 0.0;
  for (std::size_t i = 0; i < section->size(); ++i) {
    const ProfilePoint& a = (*section)[i];
    const ProfilePoint& b = (*section)[(i + 1) % section->size()];
    twice += a.radius_mm * b.height_mm - b.radius_mm * a.height_mm;
  }
  // The strip along the wall, cut square at the lip, less what lies below the floor's upper side
  // twice: strip = 6 x length; floor = 6 x the radius to the inner face at that height; the strip's
  // part below the floor's upper side is counted with the strip.
  const double length = std::hypot(30.0, 120.0);
  const double dx = 6.0 * 120.0 / length;  // the inner face's shift inwards
  const double dy = 6.0 * 30.0 / length;   // and upwards
  // Inner face at the floor's upper side.
  const double inner = 50.0 - dx + (6.0 - dy) * 30.0 / 120.0;
  // Floor: from the axis to the outer edge and the inner face, a quadrilateral.
  const std::vector<ProfilePoint> floor{{0, 0}, {50, 0}, {50.0 - dx, dy}, {inner, 6}, {0, 6}};
  double floor_twice = 0.0;
  for (std::size_t i = 0; i < floor.size(); ++i) {
    const ProfilePoint& a = floor[i];
    const ProfilePoint& b = floor[(i + 1) % floor.size()];
    floor_twice += a.radius_mm * b.height_mm - b.radius_mm * a.height_mm;
  }
  EXPECT_NEAR(twice / 2.0, 6.0 * length + floor_twice / 2.0, 0.5);
}

TEST(BadPattern, WhatCannotBeMadeIsSaid) {
  struct Case {
    PatternKind kind;
    PatternVessel vessel;
    PatternChoices choices;
    std::string what;
  };
  PatternVessel thick = beaker();
  thick.wall = {80.0, 80.0};
  PatternVessel thin = beaker();
  thin.wall = {0.2, 0.2};
  PatternVessel narrow = necked_jar();
  narrow.wall = {54.0, 54.0};
  PatternVessel closed = beaker();
  closed.wall = {70.0, 70.0};
  PatternChoices whole;
  whole.whole = true;
  PatternVessel nothing = necked_jar();
  const std::vector<Case> cases{
      {PatternKind::kRib, thick, {}, "thicker than the vessel's radius"},
      {PatternKind::kRib, thin, {}, "cannot be 0.2 mm thick"},
      {PatternKind::kRib, narrow, {}, "too narrow for a rib"},
      {PatternKind::kRib, necked_jar(), whole, "would not come out through the mouth"},
      {PatternKind::kLid, closed, {}, "too narrow for a lid"},
      {PatternKind::kRings, nothing, {}, "no diameter"},
      {PatternKind::kStick, nothing, {}, "no height"},
  };
  for (const Case& test : cases) {
    const Result<std::vector<Pattern>> pieces = patterns_of(test.kind, test.vessel, test.choices);
    ASSERT_FALSE(pieces.ok()) << test.what;
    EXPECT_THAT(pieces.problem().what, HasSubstr(test.what));
    EXPECT_FALSE(pieces.problem().next.empty());
  }
}

TEST(Pattern, TurnedOverItsTextsStayReadable) {
  Pattern piece;
  add_line(piece, {0.0, 0.0}, {10.0, 5.0}, PatternLine::kMark);
  add_text(piece, "left", {1.0, 2.0}, 3.0);
  const Pattern other = mirrored(piece);
  EXPECT_EQ(other.paths[0].points[1], (PatternPoint{-10.0, 5.0}));
  EXPECT_EQ(other.texts[0].at, (PatternPoint{-1.0, 2.0}));
  EXPECT_EQ(other.texts[0].align, PatternAlign::kRight);
  const std::optional<Pattern> turned = quarter_turned(piece);
  ASSERT_TRUE(turned);
  EXPECT_TRUE(turned->texts[0].upwards);
  EXPECT_EQ(turned->paths[0].points[1], (PatternPoint{-5.0, 10.0}));
  EXPECT_FALSE(quarter_turned(*turned));
}

TEST(Pattern, PlacesAreSpreadAndStayBelowTheEnd) {
  EXPECT_THAT(spread({1.0, 2.0, 20.0}, 5.0, 21.0), testing::ElementsAre(1.0, 6.0, 20.0));
  EXPECT_THAT(spread({18.0, 19.0, 20.0}, 5.0, 21.0), testing::ElementsAre(11.0, 16.0, 21.0));
}

}  // namespace
}  // namespace potshadow

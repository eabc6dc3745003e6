// SPDX-License-Identifier: MIT
// Strips laid flat, against the textbook's cone and against the girth they must close round.
#include "unroll/development.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <opencv2/core.hpp>

#include "unroll/wall_parts.h"

namespace potshadow {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kExactMm = 1e-6;

PaintedFace face_through(const std::vector<ProfilePoint>& points) {
  return PaintedFace(Profile::from_controls(points).value(), {});
}

// A cone frustum: control points evenly along a straight line make a straight line.
PaintedFace cone(double low_radius, double high_radius, double height) {
  std::vector<ProfilePoint> points;
  for (int i = 0; i <= 5; ++i) {
    const double part = i / 5.0;
    points.push_back({low_radius + part * (high_radius - low_radius), part * height});
  }
  return face_through(points);
}

// A jar with a belly and a neck.
PaintedFace jar() {
  return face_through(
      {{45, 0}, {70, 25}, {110, 60}, {112, 110}, {80, 150}, {52, 165}, {50, 185}, {66, 205}});
}

double polyline_mm(const std::vector<FlatPoint>& points, std::size_t from, std::size_t to) {
  double length = 0.0;
  for (std::size_t i = from + 1; i <= to; ++i) {
    length += std::hypot(points[i].x_mm - points[i - 1].x_mm, points[i].y_mm - points[i - 1].y_mm);
  }
  return length;
}

// Sheet metal work: a frustum of radii 60 and 90 mm, 40 mm high, has the slant 50 mm; its pattern
// is a ring piece of the radii 50 * 60 / 30 = 100 and 50 * 90 / 30 = 150 mm and of the angle
// 360 * 30 / 50 = 216 degrees.
TEST(Development, AConeIsThePieceOfARingOfTheTextbook) {
  const PaintedFace face = cone(60.0, 90.0, 40.0);
  const auto strip = strip_between(face, 0.0, face.length_mm(), {1.0, 1.0}, 0.0);
  ASSERT_TRUE(strip.ok());
  EXPECT_NEAR(strip->slant_mm, 50.0, kExactMm);
  EXPECT_NEAR(strip->low_arc_mm(), 100.0, kExactMm);
  EXPECT_NEAR(strip->high_arc_mm(), 150.0, kExactMm);
  EXPECT_NEAR(strip->angle_rad() * 180.0 / kPi, 216.0, kExactMm);
  EXPECT_NEAR(strip->bulge_mm, 0.0, kExactMm);
}

TEST(Development, AStripClosesRoundThePotAtBothEdges) {
  constexpr double kEnlargement = 1.0 / 0.88;
  constexpr double kFineMm = 0.001;
  // A polygon within this of an arc is shorter by less than a thousandth of a millimetre a metre.
  constexpr double kGirthMm = 0.02;
  const PaintedFace face = jar();
  int strips = 0;
  for (const Development& strip : strips_over(face, {kEnlargement, kEnlargement}, 0.3, 1.0)) {
    const std::vector<FlatPoint> edge = strip.outline(kFineMm);
    const std::size_t half = edge.size() / 2;
    EXPECT_NEAR(polyline_mm(edge, 0, half - 1), 2.0 * kPi * strip.low_radius_mm, kGirthMm);
    EXPECT_NEAR(polyline_mm(edge, half, edge.size() - 1), 2.0 * kPi * strip.high_radius_mm,
                kGirthMm);
    // Both ends are as long as the slant, and meet when it is rolled up.
    EXPECT_NEAR(polyline_mm(edge, half - 1, half), strip.slant_mm, kExactMm);
    EXPECT_NEAR(
        std::hypot(edge.back().x_mm - edge.front().x_mm, edge.back().y_mm - edge.front().y_mm),
        strip.slant_mm, kExactMm);
    EXPECT_LE(strip.bulge_mm, 1.0);
    ++strips;
  }
  EXPECT_GE(strips, 5);
  EXPECT_LE(strips, 20);
}

TEST(Development, StripsCoverTheWallOnceFromFootToRim) {
  const PaintedFace face = jar();
  const std::vector<Development> strips = strips_over(face, {1.1, 1.1}, 0.0, 1.0);
  ASSERT_FALSE(strips.empty());
  EXPECT_EQ(strips.front().low_along_mm, 0.0);
  EXPECT_EQ(strips.back().high_along_mm, face.length_mm());
  for (std::size_t i = 1; i < strips.size(); ++i) {
    EXPECT_EQ(strips[i].low_along_mm, strips[i - 1].high_along_mm);
  }
}

TEST(Development, ThereAndBackIsTheSamePlace) {
  const PaintedFace face = jar();
  std::vector<Development> all = strips_over(face, {1.12, 1.12}, 0.4, 1.0);
  all.push_back(whole_face(face, {1.12, 1.12}, 0.4));
  const PaintedFace cylinder = cone(50.0, 50.0, 80.0);
  all.push_back(strip_between(cylinder, 10.0, 60.0, {1.0, 1.0}, 0.4).value());
  int places = 0;
  for (const Development& flat : all) {
    for (double turn = -3.1; turn <= 3.1; turn += 0.31) {
      for (const double part : {0.0, 0.3, 1.0}) {
        const FaceSpot spot{0.4 + turn,
                            flat.low_along_mm + part * (flat.high_along_mm - flat.low_along_mm)};
        const FaceSpot back = flat.spot(flat.flat(spot));
        EXPECT_NEAR(back.azimuth_rad, spot.azimuth_rad, 1e-9);
        EXPECT_NEAR(back.along_mm, spot.along_mm, kExactMm);
        ++places;
      }
    }
  }
  EXPECT_GE(places, 300);
}

// On a cone nothing is stretched: what is near each other on the wall is as near on the paper.
TEST(Development, AConeIsLaidFlatWithoutStretching) {
  constexpr double kStep = 1e-4;
  constexpr double kRatio = 1e-4;
  const PaintedFace face = cone(80.0, 35.0, 90.0);
  const Development strip = strip_between(face, 5.0, 95.0, {1.0, 1.0}, 0.0).value();
  for (const double along : {10.0, 50.0, 90.0}) {
    for (const double turn : {-2.0, 0.0, 2.5}) {
      const FlatPoint at = strip.flat({turn, along});
      const FlatPoint round = strip.flat({turn + kStep, along});
      const FlatPoint up = strip.flat({turn, along + kStep});
      const double radius = face.profile_at(along).radius_mm;
      EXPECT_NEAR(std::hypot(round.x_mm - at.x_mm, round.y_mm - at.y_mm) / (radius * kStep), 1.0,
                  kRatio);
      EXPECT_NEAR(std::hypot(up.x_mm - at.x_mm, up.y_mm - at.y_mm) / kStep, 1.0, kRatio);
      EXPECT_NEAR((round.x_mm - at.x_mm) * (up.x_mm - at.x_mm) +
                      (round.y_mm - at.y_mm) * (up.y_mm - at.y_mm),
                  0.0, kRatio * kStep * kStep * radius);
    }
  }
}

// A clay that shrinks more upright than across: girths go by the one, heights by the other.
TEST(Development, EachWayIsEnlargedByItsOwn) {
  const PaintedFace face = cone(60.0, 60.0, 100.0);
  const Development strip = strip_between(face, 20.0, 70.0, {1.1, 1.2}, 0.0).value();
  EXPECT_NEAR(strip.low_radius_mm, 66.0, kExactMm);
  EXPECT_NEAR(strip.slant_mm, 60.0, kExactMm);
  const Development whole = whole_face(face, {1.1, 1.2}, 0.0);
  EXPECT_NEAR(whole.high_radius_mm, 66.0, kExactMm);
  EXPECT_NEAR(whole.slant_mm, 120.0, kExactMm);
}

TEST(Development, AStripWithoutHeightIsRefused) {
  const PaintedFace face = jar();
  EXPECT_FALSE(strip_between(face, 50.0, 50.2, {1.0, 1.0}, 0.0).ok());
  EXPECT_FALSE(strip_between(face, 60.0, 40.0, {1.0, 1.0}, 0.0).ok());
}

TEST(PaintedFaceTest, HeightsAreFoundOnTheWidestWall) {
  // An everted rim that droops: 200 mm is passed going up, and the lip comes down past it outside.
  const PaintedFace face = face_through(
      {{40, 0}, {90, 60}, {60, 150}, {50, 190}, {60, 215}, {80, 215}, {90, 205}, {92, 195}});
  const ProfilePoint at = face.profile_at(face.along_at_height(200.0));
  EXPECT_NEAR(at.height_mm, 200.0, 0.01);
  EXPECT_GT(at.radius_mm, 80.0);
}

TEST(PaintedFaceTest, TheRimHidesTheNeckFromAboveAndNotFromBelow) {
  const PaintedFace face = jar();
  const double neck = face.along_at_height(180.0);
  const double belly = face.along_at_height(90.0);
  const Eigen::Vector3d above(300.0, 0.0, 900.0);
  const Eigen::Vector3d level(900.0, 0.0, 120.0);
  EXPECT_TRUE(face.hidden_from(above, 0.0, neck));
  EXPECT_FALSE(face.hidden_from(level, 0.0, neck));
  EXPECT_FALSE(face.hidden_from(above, 0.0, belly));
  EXPECT_TRUE(face.hidden_from(level, kPi, belly));  // the far side, through the pot
}

// A face seen by nobody has parts all the same; their pictures are another matter.
TEST(WallParts, BandsWithTwoLinesAreStripsAndAllLinesAreDrawn) {
  const PaintedFace face = jar();
  WallWish wish;
  wish.parts = WallParts::kBands;
  wish.bands = {{"Zigzag", 40.0, 70.0, 12}, {"", 120.0, 140.0, 0}, {"Dots", 55.0, {}, 0}};
  const auto bands = wall_parts(face, wish);
  ASSERT_TRUE(bands.ok());
  ASSERT_EQ(bands->size(), 2U);
  EXPECT_EQ((*bands)[0].name, "Zigzag");
  EXPECT_EQ((*bands)[0].repeats, 12);
  EXPECT_EQ((*bands)[1].name, "Band 2");
  EXPECT_NEAR(face.profile_at((*bands)[0].flat.high_along_mm).height_mm, 70.0, kExactMm * 1e3);
  wish.repeats = 5;
  EXPECT_EQ((*wall_parts(face, wish))[0].repeats, 5);

  FlatPart zigzag = (*bands)[0];
  zigzag.repeats = 0;
  zigzag.picture.bgra = cv::Mat::zeros(4, 4, CV_8UC4);
  const Pattern piece = piece_of(face, wish, zigzag);
  // Its edge, the centre line, and the line of the dots that runs through it.
  EXPECT_EQ(piece.paths.size(), 3U);
  zigzag.repeats = 12;
  EXPECT_EQ(piece_of(face, wish, zigzag).paths.size(), 3U + 12U);

  wish.parts = WallParts::kStrips;
  EXPECT_EQ(wall_parts(face, wish)->size(), strips_over(face, wish.size, 0.0, 1.0).size());
  wish.parts = WallParts::kBands;
  wish.bands = {{"Dots", 55.0, {}, 0}};
  EXPECT_TRUE(wall_parts(face, wish)->empty());
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "clay/painted_bands.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "bars.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

constexpr double kPi = std::numbers::pi;
constexpr double kIdentity = 1e-9;

BodyFigures eighth() {
  ClayBody body;
  body.record = "eighth";
  body.stated.push_back({Stage::kWet, Stage::kFired, 12.5, 0.0});
  return *body_figures(body, {}, std::nullopt);
}

// A cone: radius 100 at the shelf, 60 at a height of 120. Control points in one line make it
// straight.
Profile cone() {
  std::vector<ProfilePoint> controls;
  for (int i = 0; i <= 6; ++i) controls.push_back({100.0 - 40.0 * i / 6.0, 20.0 * i});
  return Profile::from_controls(controls).value();
}

// At 30 up the cone its radius is 90; made 8/7 as large it is 34.29 up and 646.3 round.
TEST(PaintedBands, AConeIsThatOfTheHand) {
  const auto wet = band_plans(cone(), {{"Zigzag", 30.0, 60.0, 12}}, eighth(), Stage::kWet);
  ASSERT_TRUE(wet.ok()) << wet.problem().what;
  ASSERT_EQ(wet->size(), 1U);
  const BandPlan& band = wet->front();
  EXPECT_NEAR(band.low.height_mm, 30.0 * 8.0 / 7.0, kIdentity);
  EXPECT_NEAR(band.low.girth_mm, 2.0 * kPi * 90.0 * 8.0 / 7.0, 1e-6);
  EXPECT_NEAR(band.low.spacing_mm * 12.0, band.low.girth_mm, kIdentity);
  ASSERT_TRUE(band.high);
  EXPECT_NEAR(band.high->girth_mm, 2.0 * kPi * 80.0 * 8.0 / 7.0, 1e-6);
  // 30 up and 10 in.
  EXPECT_NEAR(band.along_mm, std::hypot(30.0, 10.0) * 8.0 / 7.0, 1e-6);
  const auto fired = band_plans(cone(), {{"Line", 30.0, {}, 0}}, eighth(), Stage::kFired);
  EXPECT_NEAR(fired->front().low.girth_mm, 2.0 * kPi * 90.0, 1e-6);
  EXPECT_EQ(fired->front().low.spacing_mm, 0.0);
  EXPECT_FALSE(fired->front().high.has_value());
}

TEST(PaintedBands, HeightsAndGirthsFollowTheirOwnBars) {
  ClayBody body;
  body.record = "ways";
  for (const double off : {-0.1, 0.0, 0.1}) {
    body.bars.push_back(test::bar(100.0, 94.0, 80.0 + off));
    body.bars.back().way = BarWay::kVertical;
    body.bars.push_back(test::bar(100.0, 94.0, 90.0 + off));
    body.bars.back().way = BarWay::kHorizontal;
  }
  const auto wet = band_plans(cone(), {{"Line", 30.0, {}, 4}},
                              *body_figures(body, {}, std::nullopt), Stage::kWet);
  EXPECT_NEAR(wet->front().low.height_mm, 30.0 / 0.8, 1e-6);
  EXPECT_NEAR(wet->front().low.girth_mm, 2.0 * kPi * 90.0 / 0.9, 1e-6);
}

// A lip that turns down again passes a height twice: the brush meets the wider place.
TEST(PaintedBands, TheWidestPlaceAtAHeightCounts) {
  std::vector<ProfilePoint> controls;
  for (int i = 0; i <= 4; ++i) controls.push_back({50.0, 25.0 * i});
  for (int i = 1; i <= 4; ++i) controls.push_back({50.0 + 10.0 * i, 100.0 - 5.0 * i});
  const auto profile = Profile::from_controls(controls);
  const auto line = band_plans(*profile, {{"Lip", 85.0, {}, 0}}, eighth(), Stage::kFired);
  ASSERT_TRUE(line.ok());
  EXPECT_GT(line->front().low.girth_mm, 2.0 * kPi * 70.0);
}

TEST(PaintedBands, WhatCannotBeIsNamed) {
  struct Bad {
    PaintedBand band;
    const char* says;
  };
  int checked = 0;
  for (const Bad& bad : {Bad{{"Top", 130.0, {}, 0}, "'Top' does not lie on the vessel"},
                         Bad{{"", -1.0, {}, 0}, "Band 1 does not lie"},
                         Bad{{"Strip", 60.0, 30.0, 0}, "upper line below"},
                         Bad{{"Dots", 60.0, {}, -2}, "repeated -2 times"}}) {
    const auto plans = band_plans(cone(), {bad.band}, eighth(), Stage::kWet);
    ASSERT_FALSE(plans.ok()) << bad.says;
    EXPECT_EQ(plans.problem().code, Code::kBadValue);
    EXPECT_THAT(plans.problem().what, HasSubstr(bad.says));
    ++checked;
  }
  EXPECT_EQ(checked, 4);
}

}  // namespace
}  // namespace potshadow

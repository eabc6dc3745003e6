// SPDX-License-Identifier: MIT
#include "clay/clay_body.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <limits>
#include <string>
#include <vector>

#include "bars.h"
#include "clay/cone.h"

namespace potshadow {
namespace {

using test::bar;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(Bar, ASoundOnePasses) {
  const auto checked = check_bar(bar(100.0, 94.0, 88.0), 1);
  ASSERT_TRUE(checked.ok());
  EXPECT_THAT(checked.notes(), IsEmpty());
}

TEST(Bar, SmallGrowthIsAskedAboutAndNotRefused) {
  const auto checked = check_bar(bar(100.0, 90.0, 90.4), 2);
  ASSERT_TRUE(checked.ok());
  ASSERT_EQ(checked.notes().size(), 1U);
  EXPECT_TRUE(checked.notes().front().doubtful);
  EXPECT_THAT(checked.notes().front().text,
              HasSubstr("Bar 2 grew by 0.4 % from bone-dry to fired"));
}

struct BadBar {
  std::string about;
  TestBar bar;
  std::string says;
};

TEST(Bar, WhatCannotBeIsRefusedWithAdvice) {
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  TestBar heavier = bar(100.0, 94.0, 88.0);
  heavier.wet_g = 50.0;
  heavier.dry_g = 61.0;
  TestBar hot = bar(100.0, 94.0, 88.0);
  hot.firing_c = 4000.0;
  TestBar cone = bar(100.0, 94.0, 88.0);
  cone.cone = "44";
  const std::vector<BadBar> kBad{
      {"exchanged", bar(94.0, 100.0, 88.0), "as if the two were exchanged"},
      {"fired and dry exchanged", bar(100.0, 88.0, 94.0), "longer fired than bone-dry"},
      {"one in inches", bar(100.0, 3.7, 88.0), "looks like inches"},
      {"fired in inches", bar(100.0, 94.0, 3.46), "looks like inches"},
      {"wet in inches", bar(3.94, 94.0, 88.0), "looks like inches"},
      {"all in inches", bar(3.94, 3.7, 3.46), "looks like inches"},
      {"shrinks too much", bar(100.0, 94.0, 60.0), "more than any clay does"},
      {"nothing", bar(0.0, 94.0, 88.0), "cannot be 0.0 mm"},
      {"below nothing", bar(100.0, -94.0, 88.0), "cannot be -94.0 mm"},
      {"no number", bar(100.0, kNan, 88.0), "when bone-dry"},
      {"huge", bar(1e7, 94.0, 88.0), "when wet"},
      {"heavier dry", heavier, "heavier bone-dry than wet"},
      {"too hot", hot, "fired at 4000"},
      {"no cone", cone, "a cone that is not known"}};
  int checked = 0;
  for (const BadBar& bad : kBad) {
    const auto result = check_bar(bad.bar, 3);
    ASSERT_FALSE(result.ok()) << bad.about;
    EXPECT_EQ(result.problem().code, Code::kBadValue) << bad.about;
    EXPECT_THAT(result.problem().what, HasSubstr(bad.says)) << bad.about;
    EXPECT_THAT(result.problem().what, HasSubstr("Bar 3")) << bad.about;
    EXPECT_TRUE(result.problem().next.ends_with(".")) << bad.about;
    ++checked;
  }
  EXPECT_EQ(checked, 14);
}

TEST(Body, WhatCannotBeIsRefused) {
  ClayBody good;
  good.record = "buff-mix";
  ASSERT_TRUE(check_body(good).ok());
  std::vector<ClayBody> bad(9, good);
  bad[0].record = "";
  bad[1].record = "buff mix";
  bad[2].mix.push_back({"River clay", MixKind::kClay, 0.0});
  bad[3].stated.push_back({Stage::kFired, Stage::kWet, 12.0});
  bad[4].stated.push_back({Stage::kWet, Stage::kFired, 55.0});
  bad[5].firing_c = 20.0;
  bad[6].wet_density = StatedValue{19.0, 0.1};
  bad[7].reading_sd_mm = 0.0;
  bad[8].mix.push_back({"River clay", MixKind::kClay, 1e300});
  int checked = 0;
  for (const ClayBody& body : bad) {
    const auto result = check_body(body);
    ASSERT_FALSE(result.ok()) << checked;
    EXPECT_EQ(result.problem().code, Code::kBadValue) << checked;
    ++checked;
  }
  EXPECT_EQ(checked, 9);
}

// The makers' tables for large cones at 60 °C an hour, from memory.
TEST(Cone, BendsAtItsHeat) {
  EXPECT_EQ(cone_celsius("06"), 998.0);
  EXPECT_EQ(cone_celsius(" cone 6 "), 1222.0);
  EXPECT_EQ(cone_celsius("^10"), 1285.0);
  EXPECT_FALSE(cone_celsius("13").has_value());
  EXPECT_FALSE(cone_celsius("").has_value());
  TestBar by_cone;
  by_cone.cone = "04";
  EXPECT_EQ(firing_of(by_cone), 1063.0);
  by_cone.firing_c = 1050.0;
  EXPECT_EQ(firing_of(by_cone), 1050.0);
}

}  // namespace
}  // namespace potshadow

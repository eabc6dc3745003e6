// SPDX-License-Identifier: MIT
#include "project/typed_clay.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace potshadow {
namespace {

TEST(TypedMix, IsReadWithItsRecordsAndTemper) {
  ClayBody river;
  river.record = "river";
  river.name = "River clay";
  const auto mix = typed_mix("river=70, temper: Grog = 30 %,Sea clay=2.5", {river});
  ASSERT_TRUE(mix.ok());
  const std::vector<MixPart> expected{{"River clay", MixKind::kClay, 70.0, "river"},
                                      {"Grog", MixKind::kTemper, 30.0},
                                      {"Sea clay", MixKind::kClay, 2.5}};
  EXPECT_EQ(*mix, expected);
}

TEST(TypedMix, WhatIsNoMixIsRefused) {
  int checked = 0;
  for (const std::string text :
       {"", "clay", "clay=", "=3", "clay=x", "clay=0", "clay=-3", "a=1,,b=2"}) {
    const auto mix = typed_mix(text, {});
    ASSERT_FALSE(mix.ok()) << text;
    EXPECT_EQ(mix.problem().code, Code::kBadValue) << text;
    ++checked;
  }
  EXPECT_EQ(checked, 8);
}

TEST(NewerBar, KeepsWhatIsNotSaidAnew) {
  TestBar wet;
  wet.wet_mm = 100.0;
  wet.date = "2026-11-25";
  wet.cone = "cone 06";
  TestBar fired;
  fired.fired_mm = 88.0;
  fired.firing_c = 950.0;
  const TestBar both = with_newer(wet, fired);
  EXPECT_EQ(both.wet_mm, 100.0);
  EXPECT_EQ(both.fired_mm, 88.0);
  EXPECT_EQ(both.date, "2026-11-25");
  EXPECT_EQ(both.firing_c, 950.0);
  EXPECT_EQ(both.cone, "");
}

}  // namespace
}  // namespace potshadow

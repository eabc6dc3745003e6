// SPDX-License-Identifier: MIT
#include "clay/bar_shrinkage.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "bars.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

constexpr double kIdentity = 1e-12;

TestBar bar(double wet, double dry, double fired, double celsius) {
  TestBar made = test::bar(wet, dry, fired);
  made.firing_c = celsius;
  return made;
}

ClayBody body_with(std::vector<TestBar> bars) {
  ClayBody body;
  body.record = "buff-mix";
  body.bars = std::move(bars);
  return body;
}

BarAnswer answer(const ClayBody& body, const BarQuestion& question) {
  const auto found = bar_shrinkage(body, question);
  EXPECT_TRUE(found.ok()) << (found.ok() ? "" : found.problem().what);
  EXPECT_TRUE(found.ok() && found->has_value());
  return found.ok() && *found ? **found : BarAnswer{};
}

TEST(BarShrinkage, CountsOnTheEarlierLength) {
  const ClayBody body = body_with({bar(100.0, 94.0, 88.0, 950.0), bar(100.0, 93.0, 87.0, 950.0)});
  const BarAnswer drying = answer(body, {Stage::kWet, Stage::kBoneDry, {}, BarWay::kEither});
  EXPECT_NEAR(drying.shrinkage.fraction, 0.065, kIdentity);
  const BarAnswer firing = answer(body, {Stage::kBoneDry, Stage::kFired, {}, BarWay::kEither});
  EXPECT_NEAR(firing.shrinkage.fraction, (6.0 / 94.0 + 6.0 / 93.0) / 2.0, kIdentity);
  const BarAnswer total = answer(body, {});
  EXPECT_NEAR(total.shrinkage.fraction, 0.125, kIdentity);
  EXPECT_THAT(total.bars, ElementsAre(0U, 1U));
  // Two bars: one degree of freedom, t = 12.71 (JCGM 100:2008, Table G.2).
  EXPECT_NEAR(total.shrinkage.half95 / (0.01 / 2.0), 12.71, 0.005);
}

TEST(BarShrinkage, IsInterpolatedBetweenFirings) {
  const ClayBody body = body_with({bar(100.0, 94.0, 92.0, 900.0), bar(100.0, 94.0, 92.2, 900.0),
                                   bar(100.0, 94.0, 88.0, 1000.0), bar(100.0, 94.0, 88.2, 1000.0)});
  const auto found = bar_shrinkage(body, {Stage::kWet, Stage::kFired, 950.0, BarWay::kEither});
  ASSERT_TRUE(found.ok() && found->has_value());
  EXPECT_NEAR((*found)->shrinkage.fraction, (0.079 + 0.119) / 2.0, kIdentity);
  ASSERT_EQ(found.notes().size(), 1U);
  EXPECT_THAT(found.notes().front().text,
              HasSubstr("interpolated between bars fired at 900 and 1000"));
  // A straight line is not the clay's own curve: the interval is wider than at a firing itself.
  const BarAnswer at_firing = answer(body, {Stage::kWet, Stage::kFired, 905.0, BarWay::kEither});
  EXPECT_NEAR(at_firing.shrinkage.fraction, 0.079, kIdentity);
  EXPECT_GT((*found)->shrinkage.half95, at_firing.shrinkage.half95);
  // A quarter of the step at its middle bounds it: 0.04 / 4, evenly likely.
  EXPECT_GE((*found)->shrinkage.sd, 0.01 / std::sqrt(3.0));
}

TEST(BarShrinkage, NothingIsSaidBeyondTheFirings) {
  const ClayBody body = body_with({bar(100.0, 94.0, 92.0, 900.0), bar(100.0, 94.0, 88.0, 1000.0)});
  int checked = 0;
  for (const double celsius : {850.0, 1100.0}) {
    const auto found = bar_shrinkage(body, {Stage::kWet, Stage::kFired, celsius, BarWay::kEither});
    ASSERT_FALSE(found.ok());
    EXPECT_EQ(found.problem().code, Code::kCannotBeAnswered);
    EXPECT_THAT(found.problem().what, HasSubstr("900 °C and 1000 °C"));
    ++checked;
  }
  EXPECT_EQ(checked, 2);
  // Drying has nothing to do with the fire.
  EXPECT_NEAR(
      answer(body, {Stage::kWet, Stage::kBoneDry, 1100.0, BarWay::kEither}).shrinkage.fraction,
      0.06, kIdentity);
  // Which firing is meant must be said, by the question or by the body.
  EXPECT_EQ(bar_shrinkage(body, {}).problem().code, Code::kCannotBeAnswered);
  ClayBody usual = body;
  usual.firing_c = 1000.0;
  EXPECT_NEAR(answer(usual, {}).shrinkage.fraction, 0.12, kIdentity);
}

TEST(BarShrinkage, ACountsForNothingIfLeftOut) {
  ClayBody body = body_with({bar(100.0, 94.0, 88.0, 950.0), bar(100.0, 94.0, 88.4, 950.0),
                             bar(100.0, 94.0, 80.0, 950.0)});
  body.bars[2].used = false;
  EXPECT_NEAR(answer(body, {}).shrinkage.fraction, 0.118, kIdentity);
}

TEST(BarShrinkage, NamesTheBarThatDisagrees) {
  const ClayBody body = body_with({bar(100.0, 94.0, 88.0, 950.0), bar(100.0, 94.0, 88.2, 950.0),
                                   bar(100.0, 94.0, 83.0, 950.0), bar(100.0, 94.0, 87.9, 950.0),
                                   bar(100.0, 94.0, 88.1, 950.0)});
  const auto found = bar_shrinkage(body, {});
  ASSERT_TRUE(found.ok());
  ASSERT_EQ(found.notes().size(), 1U);
  EXPECT_TRUE(found.notes().front().doubtful);
  EXPECT_THAT(found.notes().front().text, HasSubstr("Bar 3 shrank by 17.0 %"));
  EXPECT_THAT(found.notes().front().text, HasSubstr("Grubbs' test"));
}

TEST(BarShrinkage, NamesBothOfAPairThatDisagrees) {
  const auto found =
      bar_shrinkage(body_with({bar(100.0, 94.0, 88.0, 950.0), bar(100.0, 94.0, 82.0, 950.0)}), {});
  ASSERT_TRUE(found.ok());
  ASSERT_EQ(found.notes().size(), 1U);
  EXPECT_THAT(found.notes().front().text, HasSubstr("Bars 1 and 2 disagree"));
}

TEST(BarShrinkage, OfNoBarsIsNothing) {
  const auto found = bar_shrinkage(body_with({}), {});
  ASSERT_TRUE(found.ok());
  EXPECT_FALSE(found->has_value());
}

// Bars of a clay whose shrinkage follows a curve with heat, at three firings: between them the
// interval must hold the truth although the line is straight.
TEST(BarShrinkage, NineteenOfTwentyInterpolatedIntervalsHoldTheTruth) {
  constexpr int kTrials = 2000;
  // Binomial: 0.95 - 4 sqrt(0.95 x 0.05 / 2000); the allowance for the curve can only raise it.
  constexpr double kLeast = 0.930;
  constexpr double kBarSd = 0.003;
  // Rises ever faster, as bodies do when they begin to melt: 4 %, 5.5 %, 10 %.
  const auto truth = [](double celsius) {
    const double x = (celsius - 900.0) / 200.0;
    return 0.04 + 0.06 * x * x;
  };
  std::mt19937_64 random(5);
  std::normal_distribution<double> noise(0.0, kBarSd);
  std::uniform_real_distribution<double> heat(900.0, 1100.0);
  int held = 0;
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<TestBar> bars;
    for (const double celsius : {900.0, 1000.0, 1100.0}) {
      for (int i = 0; i < 3; ++i) {
        TestBar made;
        made.dry_mm = 100.0;
        made.fired_mm = 100.0 * (1.0 - truth(celsius) - noise(random));
        made.firing_c = celsius;
        bars.push_back(made);
      }
    }
    const double asked = heat(random);
    ClayBody body = body_with(std::move(bars));
    body.reading_sd_mm = 0.01;
    const auto found =
        bar_shrinkage(body, {Stage::kBoneDry, Stage::kFired, asked, BarWay::kEither});
    ASSERT_TRUE(found.ok() && found->has_value());
    // Within 15 °C of a firing its own mean stands, so the truth there does.
    double meant = asked;
    for (const double celsius : {900.0, 1000.0, 1100.0}) {
      if (std::abs(asked - celsius) <= kSameFiringC) meant = celsius;
    }
    const LinearShrinkage& got = (*found)->shrinkage;
    if (std::abs(got.fraction - truth(meant)) <= got.half95) ++held;
  }
  EXPECT_GE(static_cast<double>(held) / kTrials, kLeast);
}

}  // namespace
}  // namespace potshadow

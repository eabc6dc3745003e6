// SPDX-License-Identifier: MIT
#include "clay/pot_shrinkage.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "bars.h"
#include "clay/body_figures.h"
#include "core/propagation.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

constexpr double kIdentity = 1e-12;

SizePair diameter(double before, double after, double sd = 0.5) {
  return {"maximum diameter", PartKind::kDiameter, normal_measured(before, sd),
          normal_measured(after, sd)};
}
SizePair height(double before, double after, double sd = 0.5) {
  return {"height", PartKind::kHeight, normal_measured(before, sd), normal_measured(after, sd)};
}

// 240 wet and 210 fired is one eighth; half a millimetre on each is
// 0.5 / 240 sqrt(1 + 0.875^2) = 0.277 points.
TEST(PotShrinkage, OfOneSizeIsThatOfTheHand) {
  const auto pot = pot_shrinkage({diameter(240.0, 210.0)}, Stage::kWet, Stage::kFired);
  ASSERT_TRUE(pot.ok());
  EXPECT_NEAR(pot->shrinkage.fraction, 0.125, kIdentity);
  EXPECT_NEAR(pot->shrinkage.sd, 0.5 / 240.0 * std::sqrt(1.0 + 0.875 * 0.875), 1e-7);
  EXPECT_FALSE(pot->upright || pot->across);
}

TEST(PotShrinkage, SizesAreWeighedAndTheirWaysTold) {
  const auto pot =
      pot_shrinkage({diameter(240.0, 210.0), diameter(120.0, 105.6), height(200.0, 178.0)},
                    Stage::kWet, Stage::kFired);
  ASSERT_TRUE(pot.ok());
  ASSERT_EQ(pot->each.size(), 3U);
  ASSERT_TRUE(pot->upright && pot->across);
  EXPECT_NEAR(pot->upright->fraction, 0.11, kIdentity);
  // The larger diameter tells four times as much, but for its scatter.
  EXPECT_GT(pot->across->fraction, 0.1235);
  EXPECT_LT(pot->across->fraction, 0.125);
  // 11 and 12.5 % are farther apart than half millimetres allow, and the doubt says so.
  EXPECT_GT(pot->shrinkage.sd, 0.004);
}

TEST(PotShrinkage, SmallGrowthIsAskedAboutAndLargeRefused) {
  const auto small = pot_shrinkage({diameter(200.0, 201.0)}, Stage::kBoneDry, Stage::kFired);
  ASSERT_TRUE(small.ok());
  ASSERT_EQ(small.notes().size(), 1U);
  EXPECT_TRUE(small.notes()[0].doubtful);
  EXPECT_THAT(small.notes()[0].text, HasSubstr("exchanged?"));
  struct Bad {
    std::vector<SizePair> pairs;
    const char* says;
  };
  int checked = 0;
  for (const Bad& bad :
       {Bad{{diameter(210.0, 240.0)}, "exchanged"}, Bad{{diameter(240.0, 8.27)}, "another unit"},
        Bad{{diameter(0.0, 8.27)}, "not above zero"}, Bad{{}, "No size"},
        Bad{{{"capacity", PartKind::kCapacity, normal_measured(5.0, 1.0),
              normal_measured(4.0, 1.0)}},
            "No size"}}) {
    const auto pot = pot_shrinkage(bad.pairs, Stage::kWet, Stage::kFired);
    ASSERT_FALSE(pot.ok()) << bad.says;
    EXPECT_EQ(pot.problem().code, Code::kBadValue);
    EXPECT_THAT(pot.problem().what, HasSubstr(bad.says));
    ++checked;
  }
  EXPECT_EQ(checked, 5);
}

// Pots of known shrinkage, read with noise: the interval holds what this pot did.
TEST(PotShrinkage, NineteenOfTwentyIntervalsHoldTheTruth) {
  constexpr int kPots = 4000;
  constexpr double kSlack = 0.0138;  // four binomial standard deviations
  constexpr double kTruth = 0.118;
  int held = 0;
  for (int i = 0; i < kPots; ++i) {
    DrawRandom random(3, static_cast<std::uint64_t>(i));
    std::vector<SizePair> pairs;
    for (const double wet : {240.0, 160.0, 100.0}) {
      pairs.push_back(
          diameter(wet + 0.5 * random.normal(), wet * (1.0 - kTruth) + 0.5 * random.normal()));
    }
    const auto pot = pot_shrinkage(pairs, Stage::kWet, Stage::kFired);
    if (std::abs(pot->shrinkage.fraction - kTruth) <= pot->shrinkage.half95) ++held;
  }
  // Growing with the scatter, and never shrinking, is on the safe side.
  EXPECT_GT(static_cast<double>(held) / kPots, 0.95 - kSlack);
}

ClayBody body_of_bars() {
  ClayBody body;
  body.record = "buff";
  body.firing_c = 950.0;
  for (const double fired : {88.0, 88.4, 87.6, 88.1}) {
    body.bars.push_back(test::bar(100.0, 94.0, fired));
    body.bars.back().firing_c = 950.0;
  }
  return body;
}
PotRecord pot_of(double percent, double sd_percent) {
  PotRecord pot;
  pot.pot = "Shelf jar";
  pot.percent = percent;
  pot.sd_percent = sd_percent;
  pot.firing_c = 950.0;
  return pot;
}

// By hand: bars at 11.975 % with half an interval of 0.525 points, so 0.268; the pot at 13 % with
// 0.3 and the scatter of pots 0.5, so 0.583: weights 13.93 and 2.94, mean 12.154.
TEST(PotRecord, WeighsInBesideTheBars) {
  ClayBody body = body_of_bars();
  const BodyFigures without = *body_figures(body, {}, std::nullopt);
  EXPECT_FALSE(without.total.without_pots.has_value());
  body.pots.push_back(pot_of(13.0, 0.3));
  const BodyFigures with = *body_figures(body, {}, std::nullopt);
  const double bars_sd = without.total.shrinkage.half95 / kNormal95;
  const double of_bars = 1.0 / (bars_sd * bars_sd);
  const double of_pot = 1.0 / (0.003 * 0.003 + kPotScatter * kPotScatter);
  EXPECT_NEAR(with.total.shrinkage.fraction,
              (of_bars * without.total.shrinkage.fraction + of_pot * 0.13) / (of_bars + of_pot),
              kIdentity);
  EXPECT_THAT(with.total.pots, ElementsAre(0U));
  EXPECT_EQ(with.total.without_pots, without.total.shrinkage);
  EXPECT_EQ(with.total.bars, without.total.bars);
  EXPECT_EQ(with.drying.shrinkage, without.drying.shrinkage);
}

TEST(PotRecord, OfAnotherHeatOrLeftOutDoesNotCount) {
  ClayBody body = body_of_bars();
  const BodyFigures without = *body_figures(body, {}, std::nullopt);
  PotRecord hot = pot_of(14.0, 0.3);
  hot.firing_c = 1100.0;
  PotRecord out = pot_of(14.0, 0.3);
  out.used = false;
  PotRecord upright = pot_of(14.0, 0.3);
  upright.way = BarWay::kVertical;
  body.pots = {hot, out, upright};
  EXPECT_EQ(body_figures(body, {}, std::nullopt)->total.shrinkage, without.total.shrinkage);
}

// Without bars a pot says far more than the handbook.
TEST(PotRecord, OutweighsAHandbook) {
  ClayBody body;
  body.record = "new";
  body.pots.push_back(pot_of(9.0, 0.3));
  const BodyFigures figures = *body_figures(body, {}, std::nullopt);
  EXPECT_NEAR(figures.total.shrinkage.fraction, 0.09, 0.003);
  EXPECT_LT(figures.total.shrinkage.half95, 0.02);
  EXPECT_EQ(figures.total.source, FigureSource::kHandbook);
}

TEST(PotRecord, BadFiguresAreNamed) {
  ClayBody body = body_of_bars();
  body.pots.push_back(pot_of(45.0, 0.3));
  EXPECT_THAT(check_body(body).problem().what, HasSubstr("45.0"));
  body.pots[0] = pot_of(12.0, 0.3);
  body.pots[0].to = Stage::kWet;
  EXPECT_THAT(check_body(body).problem().what, HasSubstr("backwards"));
}

}  // namespace
}  // namespace potshadow

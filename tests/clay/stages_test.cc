// SPDX-License-Identifier: MIT
#include "clay/stages.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "bars.h"
#include "clay/small_sample.h"

namespace potshadow {
namespace {

constexpr double kIdentity = 1e-12;

TestBar bar(double wet, double leather, double dry, double fired) {
  TestBar made = test::bar(wet, dry, fired);
  made.leather_mm = leather;
  return made;
}

BodyFigures figures_of(const std::vector<TestBar>& bars) {
  ClayBody body;
  body.record = "buff";
  body.bars = bars;
  const auto found = body_figures(body, {}, std::nullopt);
  EXPECT_TRUE(found.ok());
  return *found;
}

// Bars of 100, 97, 94 and 88 mm: a pot of 88 mm fired was as long as the bars at each stage.
TEST(Stages, APotGoesTheWayOfItsBars) {
  const BodyFigures figures = figures_of(
      {bar(100.0, 97.0, 94.0, 88.0), bar(100.0, 97.0, 94.0, 88.0), bar(100.0, 97.0, 94.0, 88.0)});
  const Measured fired = normal_measured(88.0, 0.0);
  struct Row {
    Stage stage;
    double length;
  };
  int checked = 0;
  for (const Row& row : {Row{Stage::kWet, 100.0}, Row{Stage::kLeatherHard, 97.0},
                         Row{Stage::kBoneDry, 94.0}, Row{Stage::kFired, 88.0}}) {
    const StageSize size = length_at_stage(fired, figures, row.stage, SizeWay::kAcross);
    EXPECT_NEAR(size.measured.value, row.length, row.length * kIdentity);
    const StageSize volume = volume_at_stage(normal_measured(1.0, 0.0), figures, row.stage);
    EXPECT_NEAR(volume.measured.value, std::pow(row.length / 88.0, 3), 1e-9);
    ++checked;
  }
  EXPECT_EQ(checked, 4);
}

// Common practice, no source: made at 8 it fires to 7 at one eighth.
TEST(Stages, EightWetFiresToSeven) {
  ClayBody body;
  body.record = "eighth";
  body.stated.push_back({Stage::kWet, Stage::kFired, 12.5, 0.0});
  const auto figures = body_figures(body, {}, std::nullopt);
  ASSERT_TRUE(figures.ok());
  const StageSize wet =
      length_at_stage(normal_measured(7.0, 0.0), *figures, Stage::kWet, SizeWay::kUpright);
  EXPECT_NEAR(wet.measured.value, 8.0, 8.0 * kIdentity);
}

TEST(Stages, TheGreaterDoubtIsNamed) {
  const BodyFigures sure = figures_of(
      {bar(100.0, 97.0, 94.0, 88.0), bar(100.0, 97.0, 94.0, 88.1), bar(100.0, 97.0, 94.0, 87.9)});
  const Measured rough = normal_measured(88.0, 3.0);
  const Measured fine = normal_measured(88.0, 0.05);
  const auto share = [&](const Measured& fired, Stage stage) {
    return length_at_stage(fired, sure, stage, SizeWay::kAcross).clay_share;
  };
  EXPECT_LT(share(rough, Stage::kWet), 0.1);
  EXPECT_GT(share(fine, Stage::kWet), 0.9);
  EXPECT_EQ(share(fine, Stage::kFired), 0.0);
}

TEST(Stages, HeightsAndDiametersFollowTheirOwnBars) {
  std::vector<TestBar> bars;
  for (const double fired : {88.0, 88.2, 87.8}) {
    bars.push_back(bar(100.0, 97.0, 94.0, fired));
    bars.back().way = BarWay::kVertical;
    bars.push_back(bar(100.0, 98.0, 96.0, fired + 2.0));
    bars.back().way = BarWay::kHorizontal;
  }
  const BodyFigures figures = figures_of(bars);
  const Measured fired = normal_measured(90.0, 0.0);
  EXPECT_NEAR(length_at_stage(fired, figures, Stage::kWet, SizeWay::kUpright).measured.value,
              90.0 / 0.88, 1e-9);
  EXPECT_NEAR(length_at_stage(fired, figures, Stage::kWet, SizeWay::kAcross).measured.value,
              90.0 / 0.90, 1e-9);
}

// Two ways across and one upright, by hand; and back again to the fired pot.
TEST(Stages, ACapacityFollowsBothWays) {
  std::vector<TestBar> bars;
  for (const double off : {-0.2, 0.0, 0.2}) {
    bars.push_back(bar(100.0, 97.0, 94.0, 88.0 + off));
    bars.back().way = BarWay::kVertical;
    bars.push_back(bar(100.0, 98.0, 96.0, 90.0 + off));
    bars.back().way = BarWay::kHorizontal;
  }
  const BodyFigures figures = figures_of(bars);
  ASSERT_TRUE(has_ways(figures, Stage::kWet));
  const Measured fired = normal_measured(1000.0, 0.0);
  const Measured wet = volume_at_stage(fired, figures, Stage::kWet).measured;
  EXPECT_NEAR(wet.value, 1000.0 / (0.9 * 0.9 * 0.88), 1e-9);
  // 2 s_a / 0.9 and s_u / 0.88, of different bars.
  const double relative =
      std::hypot(2.0 * figures.across->shrinkage.sd / 0.9, figures.upright->shrinkage.sd / 0.88);
  EXPECT_NEAR(wet.sd / wet.value, relative, 1e-9);
  EXPECT_NEAR(volume_when_fired(normal_measured(wet.value, 0.0), figures, Stage::kWet).value,
              1000.0, 1e-9);
  const Profile tall = Profile::from_controls({{50, 0}, {50, 30}, {50, 60}, {50, 90}}).value();
  const Profile made = profile_at_stage(tall, figures, Stage::kWet);
  EXPECT_NEAR(made.at(1.0).radius_mm, 50.0 / 0.9, 1e-9);
  EXPECT_NEAR(made.at(1.0).height_mm, 90.0 / 0.88, 1e-9);
  EXPECT_FALSE(has_ways(figures, Stage::kBoneDry));
}

// The whole way: a pot photographed with noise, bars drawn and read with noise. The interval of its
// wet size must hold what this clay really needs, whichever doubt is the greater.
TEST(Stages, NineteenOfTwentyIntervalsHoldTheTruth) {
  constexpr int kTrials = 4000;
  // Binomial, four deviations: 4 sqrt(0.95 x 0.05 / 4000) = 0.0138. Adding half-widths in squares
  // is a little on the safe side where both matter and the bars are few.
  constexpr double kLeast = 0.936;
  constexpr double kTruth = 0.118;
  constexpr double kBarSd = 0.004;
  constexpr double kFired = 235.0;
  std::mt19937_64 random(19);
  std::normal_distribution<double> noise(0.0, 1.0);
  int kinds = 0;
  for (const double photo_sd : {0.2, 1.5, 6.0}) {
    for (const int count : {3, 6}) {
      int held = 0;
      for (int trial = 0; trial < kTrials; ++trial) {
        std::vector<double> bars;
        for (int i = 0; i < count; ++i) bars.push_back(kTruth + kBarSd * noise(random));
        const MeanDoubt doubt = doubt_of_mean(scatter_of(std::array{bars}, 0.0), 1.0 / count);
        const LinearShrinkage shrinkage{Stage::kWet, Stage::kFired, mean_of(bars), doubt.sd,
                                        doubt.half95};
        const Measured wet =
            length_before(normal_measured(kFired + photo_sd * noise(random), photo_sd), shrinkage);
        const double truth = kFired / (1.0 - kTruth);
        if (wet.low95 <= truth && truth <= wet.high95) ++held;
      }
      EXPECT_GE(static_cast<double>(held) / kTrials, kLeast)
          << photo_sd << ", " << count << " bars";
      ++kinds;
    }
  }
  EXPECT_EQ(kinds, 6);
}

}  // namespace
}  // namespace potshadow

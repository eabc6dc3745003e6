// SPDX-License-Identifier: MIT
#include "clay/shrinkage.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

namespace potshadow {
namespace {

// Tables print four decimals (or as many as said), so half of the last place.
constexpr double kFourPlaces = 0.5e-4;
// Percentages printed with two decimals.
constexpr double kTwoPlaces = 0.5e-2;
// Rounding over a handful of operations, with slack.
constexpr double kIdentity = 1e-12;

TotalShrinkage percent(double of_wet, double sd = 0.0) {
  const auto made = TotalShrinkage::from_percent_of_wet(of_wet, sd);
  EXPECT_TRUE(made.ok());
  return *made;
}

// Computed by hand as 1 / (1 - S): ASTM C326 states shrinkage on the plastic (wet) length.
TEST(Enlargement, FollowsTheTable) {
  struct Row {
    double percent;
    double enlargement;
  };
  constexpr std::array<Row, 5> kTable = {
      {{8.0, 1.0870}, {10.0, 1.1111}, {12.0, 1.1364}, {12.5, 1.1429}, {13.0, 1.1494}}};
  int checked = 0;
  for (const Row& row : kTable) {
    EXPECT_NEAR(percent(row.percent).enlargement(), row.enlargement, kFourPlaces) << row.percent;
    EXPECT_NEAR(percent(row.percent).wet_length(normal_measured(1000.0, 0.0)).value,
                1000.0 * row.enlargement, 1000.0 * kFourPlaces);
    ++checked;
  }
  EXPECT_EQ(checked, 5);
}

// ASTM C326-03: total linear shrinkage is (plastic length - fired length) / plastic length. Its
// bars carry marks 102 mm (4 in) apart; were the basis the fired length, 10 % would give 112.2.
TEST(Shrinkage, IsAPartOfTheWetLength) {
  const TotalShrinkage ten = percent(10.0);
  const Measured fired = ten.fired_length(normal_measured(102.0, 0.0));
  EXPECT_NEAR(fired.value, 91.8, 91.8 * kIdentity);
  EXPECT_NEAR((102.0 - fired.value) / 102.0, ten.fraction_of_wet(), kIdentity);
  EXPECT_NEAR(ten.wet_length(fired).value, 102.0, 102.0 * kIdentity);
  EXPECT_NEAR(ten.wet_length(normal_measured(102.0, 0.0)).value, 113.333, 0.5e-3);
}

// Volumes: 1 - (1 - S)^3, computed by hand. 10 % gives 27.1 %, 12 % gives 31.85 %.
TEST(Shrinkage, OfVolumeIsTheCube) {
  struct Row {
    double linear_percent;
    double volume_percent;
    double wet_over_fired;
  };
  constexpr std::array<Row, 2> kTable = {{{10.0, 27.10, 1.3717}, {12.0, 31.85, 1.4674}}};
  int checked = 0;
  for (const Row& row : kTable) {
    const Measured wet = percent(row.linear_percent).wet_volume(normal_measured(1.0, 0.0));
    EXPECT_NEAR(wet.value, row.wet_over_fired, kFourPlaces);
    EXPECT_NEAR(100.0 * (1.0 - 1.0 / wet.value), row.volume_percent, kTwoPlaces);
    ++checked;
  }
  EXPECT_EQ(checked, 2);
}

// Drying and firing shrinkage multiply and never add: 6.25 % dry and then 6.66 % of the dry length
// is 12.49 %, not 12.91 %. Worked example of a ceramic reference page.
TEST(Shrinkage, DryingThenFiringMultiplies) {
  const TotalShrinkage drying = percent(6.25);
  const TotalShrinkage firing = percent(6.66);
  const Measured fired = firing.fired_length(drying.fired_length(normal_measured(100.0, 0.0)));
  EXPECT_NEAR(100.0 - fired.value, 12.49, kTwoPlaces);
  EXPECT_NEAR(percent(100.0 - fired.value).wet_length(fired).value, 100.0, 100.0 * kIdentity);
}

// A pot made 8 in high of a clay that shrinks by one eighth comes out 7 in high: common practice,
// no source.
TEST(Shrinkage, EightWetFiresToSevenAtOneEighth) {
  const TotalShrinkage eighth = percent(12.5);
  EXPECT_NEAR(eighth.fired_length(normal_measured(8.0, 0.0)).value, 7.0, 7.0 * kIdentity);
  EXPECT_NEAR(eighth.wet_length(normal_measured(7.0, 0.0)).value, 8.0, 8.0 * kIdentity);
  EXPECT_NEAR(eighth.enlargement(), 8.0 / 7.0, kIdentity);
}

LinearShrinkage along(double percent, double sd_percent) {
  return normal_shrinkage(Stage::kWet, Stage::kFired, percent / 100.0, sd_percent / 100.0);
}

// 20 % upright and 10 % across: a volume grows by 1 / (0.8 x 0.9 x 0.9), and its doubt is that of
// two independent shrinkages, the one across twice over.
TEST(Shrinkage, GoesItsOwnWayUprightAndAcross) {
  const Result<TotalShrinkage> both = percent(15.0).with_ways(along(20.0, 0.4), along(10.0, 0.3));
  ASSERT_TRUE(both.ok());
  EXPECT_TRUE(both->has_ways());
  const Measured length = normal_measured(72.0, 0.0);
  EXPECT_NEAR(both->wet_length(length, SizeWay::kUpright).value, 90.0, 90.0 * kIdentity);
  EXPECT_NEAR(both->wet_length(length, SizeWay::kAcross).value, 80.0, 80.0 * kIdentity);
  EXPECT_NEAR(both->wet_length(length).value, 72.0 / 0.85, 90.0 * kIdentity);
  const Measured volume = both->wet_volume(normal_measured(648.0, 0.0));
  EXPECT_NEAR(volume.value, 1000.0, 1000.0 * kIdentity);
  EXPECT_NEAR(volume.sd, 1000.0 * std::hypot(2.0 * 0.003 / 0.9, 0.004 / 0.8), 1e-9);
  EXPECT_EQ(shrinkage_percents(*both), "20.0 % upright and 10.0 % across");
  EXPECT_EQ(shrinkage_percents(percent(15.0)), "15.0 %");
  EXPECT_FALSE(percent(15.0).with_ways(along(20.0, 0.4), along(31.0, 0.3)).ok());
}

TEST(Shrinkage, OfNothingChangesNothing) {
  const Measured size{120.0, 1.5, 116.0, 123.5};
  const TotalShrinkage none = percent(0.0);
  EXPECT_EQ(none.wet_length(size), size);
  EXPECT_EQ(none.fired_length(size), size);
  EXPECT_EQ(none.wet_volume(size), size);
}

// An exact shrinkage multiplies the interval and leaves its lopsidedness alone; an uncertain one
// widens both halves and keeps the longer half longer.
TEST(Uncertainty, KeepsALopsidedInterval) {
  const Measured size{100.0, 1.0, 98.5, 102.5};
  const Measured exact = percent(10.0).wet_length(size);
  EXPECT_NEAR(exact.low95, 98.5 / 0.9, 1e-10);
  EXPECT_NEAR(exact.high95, 102.5 / 0.9, 1e-10);
  const Measured uncertain = percent(10.0, 0.5).wet_length(size);
  EXPECT_LT(uncertain.low95, exact.low95);
  EXPECT_GT(uncertain.high95, exact.high95);
  EXPECT_GT(uncertain.high95 - uncertain.value, uncertain.value - uncertain.low95);
}

// First-order propagation against drawing both inputs at random.
// Source of the method: JCGM 101:2008 (Monte Carlo propagation of distributions).
class AgainstDraws : public ::testing::Test {
 protected:
  struct Drawn {
    double mean;
    double sd;
    double low95;
    double high95;
  };

  template <class Formula>
  static Drawn draw(double size, double size_sd, double s, double s_sd, unsigned seed,
                    Formula formula) {
    std::mt19937_64 random(seed);
    std::normal_distribution<double> sizes(size, size_sd);
    std::normal_distribution<double> shrinkages(s, s_sd);
    std::vector<double> values(kDraws);
    for (double& value : values) value = formula(sizes(random), shrinkages(random));
    double sum = 0.0;
    for (const double value : values) sum += value;
    const double mean = sum / static_cast<double>(kDraws);
    double squares = 0.0;
    for (const double value : values) squares += (value - mean) * (value - mean);
    std::sort(values.begin(), values.end());
    return {mean, std::sqrt(squares / static_cast<double>(kDraws - 1)), values[kDraws / 40],
            values[kDraws - kDraws / 40]};
  }

  static void expect_agree(const Measured& stated, const Drawn& drawn) {
    EXPECT_NEAR(stated.sd / drawn.sd, 1.0, kSdAgreement);
    EXPECT_NEAR(stated.value, drawn.mean, kMeanAgreement * drawn.sd);
    EXPECT_NEAR(stated.low95, drawn.low95, kEndAgreement * drawn.sd);
    EXPECT_NEAR(stated.high95, drawn.high95, kEndAgreement * drawn.sd);
  }

  static constexpr std::size_t kDraws = 200000;
  // Sampling gives 1 / sqrt(2 N) = 0.16 %; the rest is the curvature that first order leaves out,
  // about (sd of S / (1 - S))^2, far below 0.1 %. Four deviations and slack.
  static constexpr double kSdAgreement = 0.01;
  // The curvature moves the mean by (sd of S / (1 - S))^2 of the value: 0.005 % here, that is up to
  // 0.02 sd; three times as much for a volume.
  static constexpr double kMeanAgreement = 0.05;
  // Ends of the interval: sampling 0.006 sd, curvature up to 0.05 sd.
  static constexpr double kEndAgreement = 0.08;
};

TEST_F(AgainstDraws, WetLength) {
  // 235.4 mm +- 0.9 mm at 12 % +- 0.5 points.
  expect_agree(
      percent(12.0, 0.5).wet_length(normal_measured(235.4, 0.9)),
      draw(235.4, 0.9, 0.12, 0.005, 1, [](double fired, double s) { return fired / (1.0 - s); }));
}

TEST_F(AgainstDraws, FiredLength) {
  expect_agree(
      percent(12.0, 0.5).fired_length(normal_measured(267.5, 1.0)),
      draw(267.5, 1.0, 0.12, 0.005, 2, [](double wet, double s) { return wet * (1.0 - s); }));
}

TEST_F(AgainstDraws, WetVolume) {
  expect_agree(percent(10.0, 0.4).wet_volume(normal_measured(4200.0, 60.0)),
               draw(4200.0, 60.0, 0.10, 0.004, 3, [](double fired, double s) {
                 return fired / ((1.0 - s) * (1.0 - s) * (1.0 - s));
               }));
}

TEST(BadShrinkage, IsRefusedWithAdvice) {
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  constexpr double kInfinite = std::numeric_limits<double>::infinity();
  struct Row {
    double percent;
    double sd;
  };
  constexpr std::array<Row, 9> kBad = {{{-0.1, 0.0},
                                        {30.01, 0.0},
                                        {kNan, 0.5},
                                        {kInfinite, 0.5},
                                        {-kInfinite, 0.5},
                                        {12.0, -0.1},
                                        {12.0, 10.1},
                                        {12.0, kNan},
                                        {12.0, kInfinite}}};
  int checked = 0;
  for (const Row& row : kBad) {
    const auto made = TotalShrinkage::from_percent_of_wet(row.percent, row.sd);
    ASSERT_FALSE(made.ok()) << row.percent << " sd " << row.sd;
    EXPECT_EQ(made.problem().code, Code::kBadValue);
    EXPECT_TRUE(made.problem().what.ends_with("."));
    EXPECT_TRUE(made.problem().next.ends_with("."));
    ++checked;
  }
  EXPECT_EQ(checked, 9);
}

TEST(BadShrinkage, TheLimitsThemselvesAreGood) {
  EXPECT_TRUE(TotalShrinkage::from_percent_of_wet(0.0, 0.0).ok());
  EXPECT_TRUE(TotalShrinkage::from_percent_of_wet(30.0, 10.0).ok());
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "clay/small_sample.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "core/measured.h"

namespace potshadow {
namespace {

constexpr double kIdentity = 1e-12;

// Three bars of 6.0, 6.3 and 6.6 %: s = 0.3, and t = 4.303 for two degrees of freedom (JCGM
// 100:2008, Table G.2: 4.30).
TEST(SmallSample, ThreeBarsGetStudentsInterval) {
  const std::vector<double> bars{0.060, 0.063, 0.066};
  const Scatter scatter = scatter_of(std::array{bars}, 0.0);
  EXPECT_EQ(scatter.freedom, 2U);
  EXPECT_NEAR(scatter.sd, 0.003, kIdentity);
  const MeanDoubt doubt = doubt_of_mean(scatter, 1.0 / 3.0);
  EXPECT_NEAR(doubt.sd, 0.003 / std::sqrt(3.0), kIdentity);
  EXPECT_NEAR(doubt.half95 / doubt.sd, 4.303, 0.0005);
}

TEST(SmallSample, FiringsShareOneScatter) {
  const std::vector<std::vector<double>> groups{{0.10, 0.102}, {0.12, 0.124, 0.122}, {0.13}};
  const Scatter scatter = scatter_of(groups, 0.0);
  EXPECT_EQ(scatter.freedom, 3U);
  // Squares about the means of the groups: 2 x 0.001^2 and 2 x 0.002^2.
  EXPECT_NEAR(scatter.sd, std::sqrt((2e-6 + 8e-6) / 3.0), kIdentity);
}

TEST(SmallSample, AlikeBarsAreNotExact) {
  const std::vector<double> bars{0.12, 0.12, 0.12, 0.12};
  const MeanDoubt doubt = doubt_of_mean(scatter_of(std::array{bars}, 0.004), 0.25);
  EXPECT_NEAR(doubt.sd, 0.002, kIdentity);
  EXPECT_NEAR(doubt.half95, kNormal95 * 0.002, kIdentity);
}

TEST(SmallSample, ALoneBarTakesTheUsualScatter) {
  const std::vector<double> bars{0.12};
  const MeanDoubt doubt = doubt_of_mean(scatter_of(std::array{bars}, 0.004), 1.0);
  EXPECT_NEAR(doubt.sd, std::hypot(kLoneBarSd, 0.004), kIdentity);
}

// Draws bars about a known truth and counts how often the interval holds it.
TEST(SmallSample, NineteenOfTwentyIntervalsHoldTheTruth) {
  constexpr int kTrials = 5000;
  // Binomial: 0.95 ± 4 sqrt(0.95 x 0.05 / 5000).
  constexpr double kFourDeviations = 0.0124;
  constexpr double kTruth = 0.118;
  constexpr double kBarSd = 0.004;
  std::mt19937_64 random(7);
  std::normal_distribution<double> bar(kTruth, kBarSd);
  int sizes = 0;
  for (const std::size_t count : {2U, 3U, 5U, 10U}) {
    int held = 0;
    for (int trial = 0; trial < kTrials; ++trial) {
      std::vector<double> bars;
      for (std::size_t i = 0; i < count; ++i) bars.push_back(bar(random));
      const MeanDoubt doubt =
          doubt_of_mean(scatter_of(std::array{bars}, 0.0), 1.0 / static_cast<double>(count));
      if (std::abs(mean_of(bars) - kTruth) <= doubt.half95) ++held;
    }
    EXPECT_NEAR(static_cast<double>(held) / kTrials, 0.95, kFourDeviations) << count;
    ++sizes;
  }
  EXPECT_EQ(sizes, 4);
}

// ISO 5725-2:1994, Table 5, one largest or one smallest, 5 %; from memory.
TEST(StrayBar, LimitsFollowThePublishedTable) {
  struct Row {
    std::size_t count;
    double limit;
  };
  constexpr std::array<Row, 9> kTable{{{3, 1.155},
                                       {4, 1.481},
                                       {5, 1.715},
                                       {6, 1.887},
                                       {7, 2.020},
                                       {8, 2.126},
                                       {9, 2.215},
                                       {10, 2.290},
                                       {20, 2.709}}};
  constexpr double kPrinted = 0.001;  // the table was worked out to about one of its last digit
  int checked = 0;
  for (const Row& row : kTable) {
    EXPECT_NEAR(grubbs_limit(row.count), row.limit, kPrinted) << row.count;
    ++checked;
  }
  EXPECT_EQ(checked, 9);
}

TEST(StrayBar, IsTheOneFarFromTheOthers) {
  const std::vector<double> bars{0.120, 0.121, 0.1195, 0.140, 0.1205};
  const auto stray = stray_of(bars, 0.001);
  ASSERT_TRUE(stray.has_value());
  EXPECT_EQ(*stray, 3U);
  EXPECT_FALSE(stray_of(std::vector<double>{0.120, 0.124, 0.116, 0.122, 0.119}, 0.001));
}

TEST(StrayBar, IsNoneWithinWhatTheRulerTells) {
  // All alike but one, half a millimetre of a hundred off.
  EXPECT_FALSE(stray_of(std::vector<double>{0.12, 0.12, 0.12, 0.125, 0.12}, 0.004));
  EXPECT_TRUE(stray_of(std::vector<double>{0.12, 0.12, 0.12, 0.125, 0.12}, 0.001));
}

// Of sound samples one in twenty has a stray by chance.
TEST(StrayBar, IsNamedOnceInTwentyByChance) {
  constexpr int kTrials = 4000;
  constexpr double kFourDeviations = 0.0138;  // sqrt(0.05 x 0.95 / 4000), four times
  std::mt19937_64 random(11);
  std::normal_distribution<double> bar(0.12, 0.004);
  int named = 0;
  for (int trial = 0; trial < kTrials; ++trial) {
    std::vector<double> bars;
    for (int i = 0; i < 6; ++i) bars.push_back(bar(random));
    if (stray_of(bars, 0.0)) ++named;
  }
  EXPECT_NEAR(static_cast<double>(named) / kTrials, 0.05, kFourDeviations);
}

TEST(Pair, IsApartBeyondWhatTwoBarsDo) {
  EXPECT_FALSE(pair_is_apart(0.12, 0.15));
  EXPECT_TRUE(pair_is_apart(0.12, 0.165));
}

}  // namespace
}  // namespace potshadow

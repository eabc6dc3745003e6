// SPDX-License-Identifier: MIT
// Propagation is checked against the worked examples of JCGM 100:2008 (annex H.1) and JCGM 101:2008
// (clauses 9.2 to 9.4), each to the digits that are printed there.
#include "core/propagation.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <mutex>
#include <numbers>
#include <numeric>
#include <set>
#include <stdexcept>

#include "core/measured.h"

namespace potshadow {
namespace {

constexpr int kDraws = 1'000'000;  // as in JCGM 101:2008, 7.2
constexpr std::uint64_t kSeed = 1;
// Of 10^6 draws a 2.5 % or 5 % point of such distributions is good to about a fourhundredth of the
// standard deviation, and so is the standard deviation itself; three of these.
constexpr double kChance = 0.0075;
// The place of the shortest interval, not its length, is far less sharp: the length is flat in it.
constexpr double kShortestPlace = 0.03;
constexpr double kRounding = 1e-9;

constexpr double half_digit(double digit) { return digit / 2.0; }

double sum(std::span<const double> x) { return std::accumulate(x.begin(), x.end(), 0.0); }

// --- JCGM 100:2008, H.1: end-gauge calibration, lengths in nanometres --------------------------

constexpr std::array<UncertainInput, 6> kEndGauge = {{
    {50'000'623.0, 25.0, InputShape::kNormal, 18.0},  // the standard's length
    {215.0, 9.7, InputShape::kNormal, 25.6},          // the difference found by comparison
    {11.5e-6, 1.2e-6},                                // the standard's thermal expansion, 1/K
    {-0.1, 0.41},                                     // its temperature above 20 °C
    {0.0, 0.58e-6, InputShape::kNormal, 50.0},        // difference of the expansions
    {0.0, 0.029, InputShape::kNormal, 2.0},           // difference of the temperatures
}};

double end_gauge(std::span<const double> x) {
  return x[0] + x[1] - x[0] * (x[4] * x[3] + x[2] * x[5]);
}

TEST(Propagation, EndGaugeToFirstOrder) {
  const FirstOrder found = first_order(end_gauge, kEndGauge);
  EXPECT_NEAR(found.value, 50'000'838.0, half_digit(1.0));  // 50.000838 mm
  EXPECT_NEAR(found.sd, 32.0, half_digit(1.0));             // printed 32 nm
  EXPECT_NEAR(found.sd, 31.71, half_digit(0.01));           // its exact sum of squares
  const std::array<double, 6> printed{25.0, 9.7, 0.0, 0.0, 2.9, 16.6};
  std::size_t ran = 0;
  for (std::size_t i = 0; i < printed.size(); ++i, ++ran) {
    // The standard prints 16.6, cut; it is 16.675.
    constexpr double kCutDigit = 0.1;
    EXPECT_NEAR(found.parts[i], printed[i], kCutDigit) << i;
  }
  EXPECT_EQ(ran, 6U);
  EXPECT_EQ(std::floor(found.freedom), 16.0);
  // Table G.2 gives 2.92 for 16 degrees of freedom and 99 %.
  constexpr double kTableG2 = 2.92;
  EXPECT_NEAR(kTableG2 * found.sd, 93.0, half_digit(1.0));
}

TEST(Propagation, EndGaugeRedrawn) {
  // The second-order terms that H.1.7 adds, 11.7 nm and 1.7 nm, bring u from 32 to 34 nm: redrawing
  // must find them by itself.
  const Spread spread = spread_of(redrawn(end_gauge, kEndGauge, kDraws, kSeed));
  EXPECT_NEAR(spread.sd, 34.0, half_digit(1.0));
  EXPECT_NEAR(spread.mean, 50'000'838.0, half_digit(1.0));
}

// --- JCGM 101:2008, 9.2: the additive model ----------------------------------------------------

std::array<UncertainInput, 4> four(InputShape shape, double last_sd) {
  const UncertainInput one{0.0, 1.0, shape};
  return {one, one, one, {0.0, last_sd, shape}};
}

double half_width(const Spread& spread) { return (spread.high95 - spread.low95) / 2.0; }

TEST(Propagation, SumOfFourNormals) {  // 9.2.2, table 2
  const auto inputs = four(InputShape::kNormal, 1.0);
  const FirstOrder first = first_order(sum, inputs);
  EXPECT_NEAR(first.sd, 2.00, half_digit(0.01));
  EXPECT_NEAR(kNormal95 * first.sd, 3.92, half_digit(0.01));
  const Spread spread = spread_of(redrawn(sum, inputs, kDraws, kSeed));
  EXPECT_NEAR(spread.mean, 0.00, half_digit(0.01));
  EXPECT_NEAR(spread.sd, 2.00, half_digit(0.01));
  EXPECT_NEAR(half_width(spread), 3.92, half_digit(0.01) + kChance * spread.sd);
}

TEST(Propagation, SumOfFourRectangulars) {  // 9.2.3, table 3, and annex E
  const auto inputs = four(InputShape::kRectangular, 1.0);
  EXPECT_NEAR(first_order(sum, inputs).sd, 2.00, half_digit(0.01));
  const Spread spread = spread_of(redrawn(sum, inputs, kDraws, kSeed));
  EXPECT_NEAR(spread.sd, 2.00, half_digit(0.01));
  EXPECT_NEAR(half_width(spread), 3.88, half_digit(0.01));
  const double exact = 2.0 * std::numbers::sqrt3 * (2.0 - std::pow(0.6, 0.25));
  EXPECT_NEAR(half_width(spread), exact, kChance * spread.sd);
}

TEST(Propagation, OneRectangularThatOutweighsTheRest) {  // 9.2.4, table 4, from memory
  const auto inputs = four(InputShape::kRectangular, 10.0);
  const FirstOrder first = first_order(sum, inputs);
  EXPECT_NEAR(first.sd, 10.1, half_digit(0.1));
  EXPECT_NEAR(kNormal95 * first.sd, 19.9, half_digit(0.1));
  const Spread spread = spread_of(redrawn(sum, inputs, kDraws, kSeed));
  EXPECT_NEAR(spread.sd, 10.1, half_digit(0.1) + kChance * spread.sd);  // sqrt(103) is 10.149
  EXPECT_NEAR(half_width(spread), 17.0, half_digit(0.1));
}

// --- JCGM 101:2008, 9.3: mass calibration, table 6, from memory ----------------------------------

TEST(Propagation, MassCalibration) {
  const auto rectangular = [](double low, double high) {
    return UncertainInput{(low + high) / 2.0, (high - low) / 2.0 / std::numbers::sqrt3,
                          InputShape::kRectangular};
  };
  // Milligrams; densities in kg/m³: the reference's mass, the small weight, air, weight, reference.
  const std::array<UncertainInput, 5> inputs = {{{100'000.0, 0.050},
                                                 {1.234, 0.020},
                                                 rectangular(1.10, 1.30),
                                                 rectangular(7000.0, 9000.0),
                                                 rectangular(7950.0, 8050.0)}};
  const auto mass = [](std::span<const double> x) {
    return (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 100'000.0;
  };
  const FirstOrder first = first_order(mass, inputs);
  EXPECT_NEAR(first.value, 1.2340, half_digit(1e-4));
  EXPECT_NEAR(first.sd, 0.0539, half_digit(1e-4));
  EXPECT_NEAR(first.value - kNormal95 * first.sd, 1.1285, half_digit(1e-4));
  EXPECT_NEAR(first.value + kNormal95 * first.sd, 1.3395, half_digit(1e-4));
  const Spread spread = spread_of(redrawn(mass, inputs, kDraws, kSeed));
  EXPECT_NEAR(spread.mean, 1.2340, half_digit(1e-4) + kChance * spread.sd);
  EXPECT_NEAR(spread.sd, 0.0754, half_digit(1e-4) + kChance * spread.sd);
  EXPECT_NEAR(spread.shortest_low95, 1.0834, kShortestPlace * spread.sd);
  EXPECT_NEAR(spread.shortest_high95, 1.3825, kShortestPlace * spread.sd);
}

// --- JCGM 101:2008, 9.4: comparison loss in microwave power meters, from memory ------------------

TEST(Propagation, ComparisonLoss) {
  struct Row {
    double x1, mean, sd, low, high, first_sd;
  };
  // Printed in units of 10^-6; the uncertainty of each part is 0.005.
  constexpr double kUnit = 1e-6;
  constexpr std::array<Row, 3> kRows = {{{0.0, 50.0, 50.0, 0.0, 150.0, 0.0},
                                         {0.010, 150.0, 112.0, 0.0, 367.0, 100.0},
                                         {0.050, 2551.0, 502.0, 1590.0, 3543.0, 500.0}}};
  const auto loss = [](std::span<const double> x) { return (x[0] * x[0] + x[1] * x[1]) / kUnit; };
  std::size_t ran = 0;
  for (const Row& row : kRows) {
    const std::array<UncertainInput, 2> inputs = {{{row.x1, 0.005}, {0.0, 0.005}}};
    EXPECT_NEAR(first_order(loss, inputs).sd, row.first_sd, kRounding) << row.x1;
    const Spread spread = spread_of(redrawn(loss, inputs, kDraws, kSeed));
    const double chance = kChance * spread.sd;
    EXPECT_NEAR(spread.mean, row.mean, half_digit(1.0) + chance) << row.x1;
    EXPECT_NEAR(spread.sd, row.sd, half_digit(1.0) + chance) << row.x1;
    EXPECT_NEAR(spread.shortest_high95 - spread.shortest_low95, row.high - row.low,
                half_digit(2.0) + chance)
        << row.x1;
    EXPECT_NEAR(spread.shortest_low95, row.low, kShortestPlace * spread.sd) << row.x1;
    EXPECT_NEAR(spread.shortest_high95, row.high, kShortestPlace * spread.sd) << row.x1;
    // From nought to the 95 % point of an exponential distribution.
    if (row.x1 == 0.0) {
      EXPECT_NEAR(spread.shortest_high95, -50.0 * std::log(0.05), chance);
    }
    ++ran;
  }
  EXPECT_EQ(ran, 3U);
}

// --- The parts ---------------------------------------------------------------------------------

TEST(Spread, CountsOffTheEnds) {
  // Of 1 .. 100, ninety-five steps of one are inside.
  std::vector<double> sample(100);
  std::iota(sample.begin(), sample.end(), 1.0);
  Spread spread = spread_of(sample);
  EXPECT_NEAR(spread.mean, 50.5, kRounding);
  EXPECT_NEAR(spread.sd, std::sqrt(100.0 * 101.0 / 12.0), kRounding);  // n (n + 1) / 12
  EXPECT_EQ(spread.low95, 3.0);
  EXPECT_EQ(spread.high95, 98.0);
  sample.back() = 1e6;  // the shortest interval leaves an outlier out, the even one nearly so
  spread = spread_of(sample);
  EXPECT_EQ(spread.shortest_high95 - spread.shortest_low95, 95.0);
  EXPECT_EQ(spread_of({2.0, 1.0}).low95, 1.0);
  EXPECT_EQ(spread_of({2.0, 1.0}).high95, 2.0);
}

TEST(Draws, DependOnSeedAndNumberAlone) {
  const auto inputs = four(InputShape::kNormal, 1.0);
  constexpr int kFew = 1000;
  const std::vector<double> one = redrawn(sum, inputs, kFew, 7, 1);
  EXPECT_EQ(redrawn(sum, inputs, kFew, 7, 3), one);
  EXPECT_NE(redrawn(sum, inputs, kFew, 8, 1), one);
  EXPECT_EQ(std::set<double>(one.begin(), one.end()).size(), one.size());
  const std::vector<double> fewer = redrawn(sum, inputs, kFew / 2, 7, 2);
  EXPECT_TRUE(std::equal(fewer.begin(), fewer.end(), one.begin()));
}

TEST(Draws, RunOnceEachAndSaySo) {
  std::mutex mutex;
  std::multiset<int> ran;
  std::vector<int> told;
  const auto draw = [&](int i) {
    const std::lock_guard lock(mutex);
    ran.insert(i);
  };
  EXPECT_TRUE(run_draws(50, 3, draw, [&](int done) { told.push_back(done); }, {}));
  EXPECT_EQ(ran.size(), 50U);
  EXPECT_EQ(std::set<int>(ran.begin(), ran.end()).size(), 50U);
  std::vector<int> counted(50);
  std::iota(counted.begin(), counted.end(), 1);
  EXPECT_EQ(told, counted);
}

TEST(Draws, StopWhenAsked) {
  std::stop_source stop;
  int ran = 0;
  const auto draw = [&](int) {
    if (++ran == 5) stop.request_stop();
  };
  EXPECT_FALSE(run_draws(50, 1, draw, {}, stop.get_token()));
  EXPECT_EQ(ran, 5);
}

TEST(Draws, PassOnWhatIsThrown) {
  const auto draw = [](int i) {
    if (i == 3) throw std::runtime_error("three");
  };
  EXPECT_THROW(run_draws(50, 2, draw, {}, {}), std::runtime_error);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "clay/bench_reading.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "core/propagation.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

constexpr double kIdentity = 1e-12;

TEST(BenchReading, AGirthOverPiIsTheDiameter) {
  const auto size = measured_size({{BenchTool::kGirth, 600.0, {}}}, true);
  ASSERT_TRUE(size.ok());
  EXPECT_NEAR(size->value, 600.0 / std::numbers::pi, 600.0 * kIdentity);
  // Its 2 mm are limits: 2 / pi / sqrt(3). No allowance for one way: it goes round them all.
  EXPECT_NEAR(size->sd, 2.0 / std::numbers::pi / std::sqrt(3.0), kIdentity);
}

// The perimeter of an ellipse by Ramanujan's second formula (1914, from memory), whose error is
// below 1e-9 here: a girth over pi is the mean diameter.
TEST(BenchReading, AGirthDoesNotMindAnOvalPot) {
  constexpr double kOval = 0.02;  // 2 % either way
  constexpr double kSecondOrder = kOval * kOval;
  const double a = 100.0 * (1.0 + kOval);
  const double b = 100.0 * (1.0 - kOval);
  const double h = std::pow((a - b) / (a + b), 2);
  const double girth =
      std::numbers::pi * (a + b) * (1.0 + 3.0 * h / (10.0 + std::sqrt(4.0 - 3.0 * h)));
  const auto size = measured_size({{BenchTool::kGirth, girth, {}}}, true);
  EXPECT_NEAR(size->value / 200.0, 1.0, kSecondOrder);
}

TEST(BenchReading, CalipersMeetOneWayOfAnOvalPot) {
  const auto one = measured_size({{BenchTool::kCaliper, 200.0, {}}}, true);
  ASSERT_TRUE(one.ok());
  EXPECT_NEAR(one->sd, std::hypot(0.5 / std::sqrt(3.0), 2.0), kIdentity);
  const auto two =
      measured_size({{BenchTool::kCaliper, 200.5, {}}, {BenchTool::kCaliper, 199.5, {}}}, true);
  EXPECT_EQ(two->value, 200.0);
  EXPECT_NEAR(two->sd, std::hypot(0.5 / std::sqrt(3.0), 2.0 / std::sqrt(2.0)), kIdentity);
  // Readings that scatter more than that say so themselves.
  const auto wild =
      measured_size({{BenchTool::kCaliper, 210.0, {}}, {BenchTool::kCaliper, 190.0, {}}}, true);
  EXPECT_GT(wild->sd, 9.9);
  // A height has no ways.
  EXPECT_NEAR(measured_size({{BenchTool::kTape, 200.0, 1.0}}, false)->sd, 1.0 / std::sqrt(3.0),
              kIdentity);
}

// Oval pots of a random direction, read within limits: the interval holds the mean diameter.
TEST(BenchReading, NineteenOfTwentyIntervalsHoldTheDiameter) {
  constexpr int kPots = 4000;
  constexpr double kMean = 200.0;
  constexpr double kSlack = 0.0138;  // four binomial standard deviations
  int held = 0;
  for (int pot = 0; pot < kPots; ++pot) {
    DrawRandom random(7, static_cast<std::uint64_t>(pot));
    // Two normal parts of cos 2a and sin 2a make one diameter's deviation normal.
    const double c = 0.01 * random.normal();
    const double limits = 0.5 * (2.0 * random.uniform() - 1.0);
    const auto size = measured_size({{BenchTool::kCaliper, kMean * (1.0 + c) + limits, {}}}, true);
    if (size->low95 <= kMean && kMean <= size->high95) ++held;
  }
  EXPECT_GT(static_cast<double>(held) / kPots, 0.95 - kSlack);
  EXPECT_LT(static_cast<double>(held) / kPots, 0.95 + kSlack);
}

TEST(BenchReading, TwoWaysOfMeasuringAreWeighed) {
  const auto agreed = both_as_one(normal_measured(200.0, 1.0), normal_measured(202.0, 2.0));
  EXPECT_NEAR(agreed->value, 200.4, kIdentity * 200.0);
  EXPECT_NEAR(agreed->sd, 2.0 / std::sqrt(5.0), kIdentity);
  EXPECT_TRUE(agreed.notes().empty());
  const auto apart = both_as_one(normal_measured(200.0, 1.0), normal_measured(210.0, 2.0));
  ASSERT_EQ(apart.notes().size(), 1U);
  EXPECT_TRUE(apart.notes()[0].doubtful);
  EXPECT_GT(apart->sd, 4.0 * agreed->sd);
}

TEST(BenchReading, WhatCannotBeIsAProblem) {
  struct Bad {
    BenchReading reading;
    bool diameter;
    const char* says;
  };
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  int checked = 0;
  for (const Bad& bad : {Bad{{BenchTool::kCaliper, 0.0, {}}, true, "cannot measure 0.0 mm"},
                         Bad{{BenchTool::kCaliper, -5.0, {}}, true, "cannot measure -5.0 mm"},
                         Bad{{BenchTool::kTape, kNan, {}}, true, "cannot measure"},
                         Bad{{BenchTool::kTape, 100.0, -1.0}, true, "to within -1.0 mm"},
                         Bad{{BenchTool::kTape, 100.0, 60.0}, true, "to within 60.0 mm"},
                         Bad{{BenchTool::kGirth, 100.0, {}}, false, "has no girth"}}) {
    const auto size = measured_size({bad.reading}, bad.diameter);
    ASSERT_FALSE(size.ok()) << bad.says;
    EXPECT_EQ(size.problem().code, Code::kBadValue);
    EXPECT_THAT(size.problem().what, HasSubstr(bad.says));
    ++checked;
  }
  EXPECT_EQ(checked, 6);
}

}  // namespace
}  // namespace potshadow

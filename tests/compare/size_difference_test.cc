// SPDX-License-Identifier: MIT
#include "compare/size_difference.h"

#include <gtest/gtest.h>

#include <random>

namespace potshadow {
namespace {

TEST(SizeDifference, WidthsFollowSidak) {
  EXPECT_NEAR(sidak_width(1), kNormal95, 1e-9);
  // 1 - 0.95^(1/10) = 0.5116 %: the normal table has 2.80 for it (Abramowitz & Stegun, table 26.5).
  EXPECT_NEAR(sidak_width(10), 2.80, 0.005);
}

// An original between six and seven units across by its photograph, against a pot that was eight
// wet: by common practice it fires to seven at an eighth. That it is larger cannot be claimed.
TEST(SizeDifference, SixToSevenAgainstSevenCannotBeTold) {
  const Measured original = normal_measured(6.5, 0.5 / kNormal95);
  const Measured fired = normal_measured(8.0 * (1.0 - 1.0 / 8.0), 0.05);
  const SizeDifference difference = size_difference(original, fired, 0.0, 1);
  EXPECT_NEAR(difference.difference.value, 0.5, 1e-12);
  EXPECT_EQ(difference.verdict, Comparison::kCannotTell);
  // Unfired, at eight, it is.
  EXPECT_EQ(size_difference(original, normal_measured(8.0, 0.05), 0.0, 1).verdict,
            Comparison::kLarger);
}

TEST(SizeDifference, ASharedScaleCancels) {
  // Both known to 2 %, all of it the scale of the one card that both were seen beside.
  const Measured a = normal_measured(200.0, 4.0);
  const Measured b = normal_measured(204.0, 4.08);
  EXPECT_EQ(size_difference(a, b, 0.0, 1).verdict, Comparison::kCannotTell);
  const SizeDifference difference = size_difference(a, b, 0.02, 1);
  EXPECT_NEAR(difference.difference.sd, 0.08, 1e-9);
  EXPECT_EQ(difference.verdict, Comparison::kLarger);
}

TEST(SizeDifference, LikeVesselsAreSeldomCalledDifferent) {
  constexpr int kPairs = 4000;
  constexpr int kClaims = 8;
  constexpr int kMostFalse = kPairs * 6 / 100;  // 5 %, and three binomial standard deviations
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  int told = 0;
  int covered = 0;
  for (int pair = 0; pair < kPairs; ++pair) {
    bool any = false;
    for (int size = 0; size < kClaims; ++size) {
      const double truth = 50.0 + 20.0 * size;
      const double sd = 0.01 * truth;
      const SizeDifference difference =
          size_difference(normal_measured(truth + sd * normal(random), sd),
                          normal_measured(truth + sd * normal(random), sd), 0.0, kClaims);
      any = any || difference.verdict == Comparison::kLarger ||
            difference.verdict == Comparison::kSmaller;
      covered += difference.difference.low95 <= 0.0 && difference.difference.high95 >= 0.0;
    }
    told += any;
  }
  EXPECT_LT(told, kMostFalse);
  EXPECT_NEAR(covered / double{kPairs * kClaims}, 0.95, 0.006);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Rounding is checked against the worked examples of JCGM 100:2008 (GUM), 7.2.6.
#include "core/measured.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>

namespace potshadow {
namespace {

// Rounding over a handful of operations, with slack.
constexpr double kIdentity = 1e-12;
// The tables print 1.960; half a unit of its last digit.
constexpr double kTableHalfDigit = 0.0005;
// JCGM 101:2008 prints ± 3.92; half a unit of its last digit.
constexpr double kJcgm101HalfDigit = 0.005;

TEST(Measured, NormalIntervalIsTheTablesOne) {
  // JCGM 100:2008, table G.1: 1.960 standard deviations hold 95 %.
  EXPECT_NEAR(kNormal95, 1.960, kTableHalfDigit);
  // The probability between the limits, through the error function.
  EXPECT_NEAR(std::erf(kNormal95 / std::sqrt(2.0)), 0.95, kIdentity);
}

TEST(Measured, NormalMeasuredSpansTheInterval) {
  // JCGM 101:2008, 9.2.2, table 2: the sum of four standard normals has u = 2.00, 95 % ± 3.92.
  const Measured m = normal_measured(0.0, 2.0);
  EXPECT_EQ(m.value, 0.0);
  EXPECT_EQ(m.sd, 2.0);
  EXPECT_NEAR(m.low95, -3.92, kJcgm101HalfDigit);
  EXPECT_NEAR(m.high95, 3.92, kJcgm101HalfDigit);
}

TEST(Measured, NormalMeasuredIsCentredOnTheValue) {
  const Measured m = normal_measured(235.4, 0.9);
  EXPECT_NEAR((m.low95 + m.high95) / 2.0, 235.4, 235.4 * kIdentity);
  EXPECT_NEAR(m.high95 - m.value, kNormal95 * 0.9, 235.4 * kIdentity);
}

TEST(Measured, NoUncertaintyGivesAPoint) {
  const Measured m = normal_measured(12.0, 0.0);
  EXPECT_EQ(m, (Measured{12.0, 0.0, 12.0, 12.0}));
}

TEST(Measured, ScalingActsOnEveryField) {
  EXPECT_EQ(scaled({100.0, 1.0, 97.0, 104.0}, 0.5), (Measured{50.0, 0.5, 48.5, 52.0}));
}

TEST(MeasuredDeathTest, NegativeUncertaintyOrFactorStopsTheProgram) {
  GTEST_FLAG_SET(death_test_style, "threadsafe");
  EXPECT_DEATH(static_cast<void>(normal_measured(1.0, -0.1)), "internal check failed");
  EXPECT_DEATH(static_cast<void>(scaled({1.0, 0.1, 0.8, 1.2}, 0.0)), "internal check failed");
  EXPECT_DEATH(static_cast<void>(scaled({1.0, 0.1, 0.8, 1.2}, -2.0)), "internal check failed");
}

// JCGM 100:2008, 7.2.6: "y = 10.057 62 Ω with uc(y) = 27 mΩ should be rounded to 10.058 Ω".
TEST(Rounding, GumResistanceExample) {
  const RoundedText text = rounded(10.05762, 0.027);
  EXPECT_EQ(text.value, "10.058");
  EXPECT_EQ(text.plus_minus, "0.027");
  EXPECT_EQ(text.decimals, 3);
}

// JCGM 100:2008, 7.2.6: 28.05 kHz is rounded down to 28 kHz.
TEST(Rounding, GumFrequencyExample) { EXPECT_EQ(rounded(1000.0, 28.05).plus_minus, "28"); }

// JCGM 100:2008, 7.2.6: 10.47 mΩ "may" be rounded up to 11 mΩ; this program rounds to nearest.
TEST(Rounding, GumOptionalRoundingUpIsNotTaken) {
  const RoundedText text = rounded(123.456, 10.47);
  EXPECT_EQ(text.plus_minus, "10");
  EXPECT_EQ(text.value, "123");
}

// JCGM 100:2008, 7.2.6: two significant digits are enough, also just below a power of ten, where
// rounding adds a digit, and at one.
TEST(Rounding, KeepsTwoSignificantDigitsAcrossPowersOfTen) {
  EXPECT_EQ(rounded(5.0, 0.0994).plus_minus, "0.099");
  EXPECT_EQ(rounded(5.0, 0.0996).plus_minus, "0.10");
  EXPECT_EQ(rounded(5.0, 0.1).plus_minus, "0.10");
  EXPECT_EQ(rounded(5.0, 0.996).plus_minus, "1.0");
  EXPECT_EQ(rounded(5.0, 1.0).plus_minus, "1.0");
  EXPECT_EQ(rounded(5.0, 9.94).plus_minus, "9.9");
  EXPECT_EQ(rounded(5.0, 9.96).plus_minus, "10");
  EXPECT_EQ(rounded(5.0, 0.01).plus_minus, "0.010");
  EXPECT_EQ(rounded(5.0, 0.001).plus_minus, "0.0010");
}

TEST(Rounding, ValueAndUncertaintyEndAtTheSameDigit) {
  int cases = 0;
  for (double uncertainty = 0.00013; uncertainty < 90.0; uncertainty *= 1.37) {
    const RoundedText text = rounded(76.54321987, uncertainty);
    const auto digits_after_point = [](const std::string& s) {
      const std::size_t point = s.find('.');
      return point == std::string::npos ? 0 : static_cast<int>(s.size() - point - 1);
    };
    EXPECT_EQ(digits_after_point(text.value), text.decimals) << text.value;
    EXPECT_EQ(digits_after_point(text.plus_minus), text.decimals) << text.plus_minus;
    ++cases;
  }
  EXPECT_EQ(cases, 43);
}

TEST(Rounding, DecimalsStayWithinTheBounds) {
  EXPECT_EQ(rounded(235.4321, 0.00017, 0, 1).value, "235.4");
  EXPECT_EQ(rounded(235.4321, 0.00017, 0, 1).plus_minus, "0.0");
  EXPECT_EQ(rounded(235.4321, 57.0, 1, 3).value, "235.4");
  EXPECT_EQ(rounded(235.4321, 57.0, 1, 3).plus_minus, "57.0");
}

TEST(Rounding, WithoutUncertaintyShowsTheMostDecimals) {
  EXPECT_EQ(rounded(1.5, 0.0, 0, 2).value, "1.50");
  EXPECT_EQ(rounded(1.5, 0.0, 0, 2).plus_minus, "0.00");
  EXPECT_EQ(rounded(1.5, std::numeric_limits<double>::denorm_min(), 0, 2).value, "1.50");
}

TEST(Rounding, WholeTensWhereAllowed) {
  const RoundedText text = rounded(12345.0, 678.0, -3, 6);
  EXPECT_EQ(text.value, "12350");
  EXPECT_EQ(text.plus_minus, "680");
  EXPECT_EQ(text.decimals, 0);
}

TEST(Rounding, NeverShowsMinusZero) {
  EXPECT_EQ(rounded(-0.0004, 0.12).value, "0.00");
  EXPECT_EQ(rounded(-0.04, 21.0).value, "0");
}

TEST(Rounding, NotFiniteGivesADash) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  EXPECT_EQ(rounded(nan, 1.0).value, "–");
  EXPECT_EQ(rounded(1.0, nan).plus_minus, "–");
  EXPECT_EQ(rounded(-infinity, 1.0).value, "–");
  EXPECT_EQ(rounded(1.0, infinity).value, "–");
}

}  // namespace
}  // namespace potshadow

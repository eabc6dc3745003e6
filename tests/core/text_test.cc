// SPDX-License-Identifier: MIT
#include "core/text.h"

#include <gtest/gtest.h>

#include <array>
#include <limits>
#include <locale>
#include <string>
#include <vector>

namespace potshadow {
namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
constexpr double kInfinity = std::numeric_limits<double>::infinity();

// Written the way a German or French program would.
class CommaForPoint : public std::numpunct<char> {
 protected:
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST(FixedText, HasExactlyTheDecimalsAskedFor) {
  EXPECT_EQ(fixed_text(12.3456, 0), "12");
  EXPECT_EQ(fixed_text(12.3456, 2), "12.35");
  EXPECT_EQ(fixed_text(12.0, 3), "12.000");
  EXPECT_EQ(fixed_text(-0.96, 1), "-1.0");
  EXPECT_EQ(fixed_text(1234567.8, 1), "1234567.8");
  EXPECT_EQ(fixed_text(1e-9, 4), "0.0000");
}

TEST(FixedText, NeverShowsMinusZero) {
  int cases = 0;
  for (int decimals = 0; decimals <= 6; ++decimals) {
    const std::string zero = decimals == 0 ? "0" : "0." + std::string(std::size_t(decimals), '0');
    for (const double value : {0.0, -0.0, -1e-9, -4e-7, 4e-7}) {
      EXPECT_EQ(fixed_text(value, decimals), zero);
      ++cases;
    }
  }
  EXPECT_EQ(cases, 35);
  EXPECT_EQ(fixed_text(-0.06, 1), "-0.1") << "a real minus stays";
}

TEST(FixedText, NotFiniteGivesADash) {
  EXPECT_EQ(fixed_text(kNan, 2), "–");
  EXPECT_EQ(fixed_text(kInfinity, 2), "–");
  EXPECT_EQ(fixed_text(-kInfinity, 2), "–");
}

TEST(FixedText, IgnoresTheLocale) {
  const std::locale before =
      std::locale::global(std::locale(std::locale::classic(), new CommaForPoint));
  const std::string text = fixed_text(1234567.5, 1);
  const std::string fraction = sixteenths_text(Mm{2.5 * 25.4});
  std::locale::global(before);
  EXPECT_EQ(text, "1234567.5");
  EXPECT_EQ(fraction, "2 1/2");
}

TEST(FixedText, TheLargestNumbersFit) {
  const std::string text = fixed_text(-std::numeric_limits<double>::max(), kMostDecimals);
  EXPECT_EQ(text.size(), 1U + 309U + 1U + static_cast<std::size_t>(kMostDecimals));
}

TEST(FixedTextDeathTest, ImpossibleDecimalsStopTheProgram) {
  GTEST_FLAG_SET(death_test_style, "threadsafe");
  EXPECT_DEATH(static_cast<void>(fixed_text(1.0, -1)), "internal check failed");
  EXPECT_DEATH(static_cast<void>(fixed_text(1.0, kMostDecimals + 1)), "internal check failed");
}

// International yard and pound agreement, 1959: 1 yd = 0.9144 m, so 1 in = 25.4 mm exactly.
TEST(Units, InchIsAThirtySixthOfAYard) { EXPECT_EQ(kMmPerInch * 36.0, 914.4); }

TEST(Units, LengthsConvert) {
  EXPECT_EQ(in_unit(Mm{254.0}, LengthUnit::kMm), 254.0);
  EXPECT_EQ(in_unit(Mm{254.0}, LengthUnit::kCm), 25.4);
  EXPECT_EQ(in_unit(Mm{254.0}, LengthUnit::kInch), 10.0);
  EXPECT_EQ(unit_name(LengthUnit::kMm), "mm");
  EXPECT_EQ(unit_name(LengthUnit::kCm), "cm");
  EXPECT_EQ(unit_name(LengthUnit::kInch), "in");
}

TEST(Sixteenths, FractionsAreReduced) {
  const std::array<const char*, 17> expected = {"0",   "1/16",  "1/8", "3/16",  "1/4", "5/16",
                                                "3/8", "7/16",  "1/2", "9/16",  "5/8", "11/16",
                                                "3/4", "13/16", "7/8", "15/16", "1"};
  int cases = 0;
  for (std::size_t i = 0; i < expected.size(); ++i) {
    EXPECT_EQ(sixteenths_text(Mm{static_cast<double>(i) * 25.4 / 16.0}), expected.at(i));
    ++cases;
  }
  EXPECT_EQ(cases, 17);
}

// The rulers' table: 1/16 in = 1.5875 mm.
TEST(Sixteenths, RoundsToTheNearest) {
  EXPECT_EQ(sixteenths_text(Mm{1.5875 * 0.49}), "0");
  EXPECT_EQ(sixteenths_text(Mm{1.5875 * 0.51}), "1/16");
  EXPECT_EQ(sixteenths_text(Mm{7.1875 * 25.4 + 0.7}), "7 3/16");
  EXPECT_EQ(sixteenths_text(Mm{7.1875 * 25.4 + 0.9}), "7 1/4");
  EXPECT_EQ(sixteenths_text(Mm{25.4 - 0.7}), "1");
}

// A4 is 210 mm x 297 mm (ISO 216); on an inch ruler 8 1/4 x 11 11/16.
TEST(Sixteenths, A4Sheet) {
  EXPECT_EQ(sixteenths_text(Mm{210.0}), "8 1/4");
  EXPECT_EQ(sixteenths_text(Mm{297.0}), "11 11/16");
}

TEST(Sixteenths, NegativeLengthsKeepTheirSign) {
  EXPECT_EQ(sixteenths_text(Mm{-1.5 * 25.4}), "-1 1/2");
  EXPECT_EQ(sixteenths_text(Mm{-25.4 / 8.0}), "-1/8");
  EXPECT_EQ(sixteenths_text(Mm{-0.1}), "0") << "never minus zero";
}

TEST(Sixteenths, WhatIsNoLengthGivesADash) {
  EXPECT_EQ(sixteenths_text(Mm{kNan}), "–");
  EXPECT_EQ(sixteenths_text(Mm{kInfinity}), "–");
  EXPECT_EQ(sixteenths_text(Mm{1e300}), "–");
}

TEST(LengthText, RoundsToTheUncertaintyInEachUnit) {
  const Measured m{235.4321, 0.92, 233.6321, 237.2321};
  EXPECT_EQ(length_text(m, LengthUnit::kMm), "235.4 ± 1.8");
  EXPECT_EQ(length_text(m, LengthUnit::kCm), "23.54 ± 0.18");
  EXPECT_EQ(length_text(m, LengthUnit::kInch), "9.269 ± 0.071");
}

TEST(LengthText, WideIntervalsLoseTheDecimals) {
  EXPECT_EQ(length_text({235.4321, 12.0, 212.0, 259.0}, LengthUnit::kMm), "235 ± 24");
}

TEST(LengthText, NarrowIntervalsStopAtATenthOfAMillimetre) {
  EXPECT_EQ(length_text({85.6, 0.02, 85.56, 85.64}, LengthUnit::kMm), "85.6 ± 0.0");
}

TEST(Columns, EachLetterCountsOnce) {
  EXPECT_EQ(display_width(""), 0U);
  EXPECT_EQ(display_width("rim"), 3U);
  EXPECT_EQ(display_width("1.2 ± 0.3"), 9U);
  EXPECT_EQ(display_width("–"), 1U);           // three bytes
  EXPECT_EQ(display_width("\U0001F3FA"), 1U);  // four bytes
}

TEST(Columns, PaddingFillsUpToTheWidth) {
  EXPECT_EQ(pad_right("1 ± 2", 8), "1 ± 2   ");
  EXPECT_EQ(pad_left("1 ± 2", 8), "   1 ± 2");
  EXPECT_EQ(pad_right("", 2), "  ");
  EXPECT_EQ(pad_left("", 2), "  ");
}

TEST(Columns, TextThatFillsTheWidthIsNeverCut) {
  EXPECT_EQ(pad_right("height", 6), "height");
  EXPECT_EQ(pad_left("height", 6), "height");
  EXPECT_EQ(pad_right("height", 3), "height");
  EXPECT_EQ(pad_left("height", 3), "height");
}

}  // namespace
}  // namespace potshadow

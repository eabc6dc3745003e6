// SPDX-License-Identifier: MIT
#include "desktop/words/figure_text.h"

#include <gtest/gtest.h>

namespace potshadow {
namespace {

// JCGM 100:2008 (GUM) 7.2.6: the uncertainty to two digits, the value to the same place.
TEST(FigureText, RoundsAsTheUncertaintyAsks) {
  const Measured mm = normal_measured(235.0994, 1.4322);
  const FigureText text = length_figure(mm, LengthUnit::kMm);
  EXPECT_EQ(text.value, "235.1");
  EXPECT_EQ(text.plus_minus, "2.8");
  EXPECT_EQ(text.low, "232.3");
  EXPECT_EQ(text.high, "237.9");
  EXPECT_EQ(length_figure(mm, LengthUnit::kCm).value, "23.51");
  EXPECT_EQ(length_figure(mm, LengthUnit::kInch).plus_minus, "0.11");
  EXPECT_EQ(volume_figure(normal_measured(5424.6, 221.7)).value, "5420");
  EXPECT_EQ(plain_figure(normal_measured(0.98765, 0.0002), 3).value, "0.988");
}

TEST(FigureText, HalfWidthIsOfTheInterval) {
  EXPECT_DOUBLE_EQ(half_width95({10.0, 1.0, 8.0, 13.0}), 2.5);
}

TEST(PercentText, KeepsADigitWhereItIsSmall) {
  EXPECT_EQ(percent_text(0.091), "± 9 %");
  EXPECT_EQ(percent_text(0.004), "± 0.4 %");
}

TEST(Starts, ChangePlainLettersOnly) {
  EXPECT_EQ(with_small_start("Rim"), "rim");
  EXPECT_EQ(with_small_start("ø 20"), "ø 20");
  EXPECT_EQ(with_large_start("rim"), "Rim");
  EXPECT_EQ(with_large_start("12 marks"), "12 marks");
  EXPECT_EQ(with_small_start(""), "");
}

TEST(Counted, KnowsOne) {
  EXPECT_EQ(counted(0, "mark", "marks"), "0 marks");
  EXPECT_EQ(counted(1, "mark", "marks"), "1 mark");
  EXPECT_EQ(counted(2, "mark", "marks"), "2 marks");
}

}  // namespace
}  // namespace potshadow

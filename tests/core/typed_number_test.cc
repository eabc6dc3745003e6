// SPDX-License-Identifier: MIT
// Numbers as people type them.
#include "core/typed_number.h"

#include <gtest/gtest.h>

namespace potshadow {
namespace {

TEST(TypedNumber, ReadsPointsCommasAndFractions) {
  EXPECT_EQ(typed_number("12"), 12.0);
  EXPECT_EQ(typed_number(" 12.5 "), 12.5);
  EXPECT_EQ(typed_number("12,5"), 12.5);
  EXPECT_EQ(typed_number("5/8"), 0.625);
  EXPECT_EQ(typed_number("3 1/2"), 3.5);
  EXPECT_EQ(typed_number("3½"), 3.5);
  EXPECT_EQ(typed_number("9 ¾"), 9.75);
  EXPECT_EQ(typed_number("-1 1/4"), -1.25);
  EXPECT_EQ(typed_number("+2"), 2.0);
  EXPECT_EQ(typed_number("31/2"), 15.5);
}

TEST(TypedNumber, RefusesWhatIsNoNumber) {
  for (const char* text : {"", "  ", "twelve", "12mm", "1.2.3", "1,000,5", "1/0", "--2", "+-2",
                           "inf", "nan", "1e999", "3 5/4", "/2", "3 /", "½3"}) {
    EXPECT_EQ(typed_number(text), std::nullopt) << text;
  }
}

TEST(TypedNumber, ShowsNoZerosAtTheEnd) {
  EXPECT_EQ(typed_text(12.0, 2), "12");
  EXPECT_EQ(typed_text(12.50, 2), "12.5");
  EXPECT_EQ(typed_text(0.126, 2), "0.13");
  EXPECT_EQ(typed_text(-0.001, 2), "0");
  EXPECT_EQ(typed_text(100.0, 0), "100");
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "core/student_t.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/measured.h"

namespace potshadow {
namespace {

// JCGM 100:2008, Table G.2, the column of 95 %, printed to two decimals.
TEST(StudentT, FollowsThePublishedTable) {
  struct Row {
    double freedom;
    double t;
  };
  constexpr std::array<Row, 26> kTable{
      {{1, 12.71}, {2, 4.30},  {3, 3.18},  {4, 2.78},  {5, 2.57},  {6, 2.45},  {7, 2.36},
       {8, 2.31},  {9, 2.26},  {10, 2.23}, {11, 2.20}, {12, 2.18}, {13, 2.16}, {14, 2.14},
       {15, 2.13}, {16, 2.12}, {17, 2.11}, {18, 2.10}, {19, 2.09}, {20, 2.09}, {25, 2.06},
       {30, 2.04}, {35, 2.03}, {40, 2.02}, {45, 2.01}, {50, 2.01}}};
  constexpr double kPrinted = 0.0051;  // half of the last digit, and 2.365 was printed as 2.36
  int checked = 0;
  for (const Row& row : kTable) {
    EXPECT_NEAR(student_t(0.95, row.freedom), row.t, kPrinted) << row.freedom;
    ++checked;
  }
  EXPECT_EQ(checked, 26);
}

// JCGM 100:2008, H.1.6: 16 degrees of freedom at 99 % give 2.92.
TEST(StudentT, GivesTheGaugeBlocksFactor) { EXPECT_NEAR(student_t(0.99, 16.0), 2.92, 0.005); }

TEST(StudentT, HasItsClosedForms) {
  constexpr double kRounding = 1e-9;  // as its header promises
  int checked = 0;
  for (const double p : {0.1, 0.5, 0.68, 0.95, 0.999}) {
    // One degree of freedom is Cauchy's distribution, two have an algebraic one.
    const double one = std::tan(std::numbers::pi * p / 2.0);
    const double two = p * std::sqrt(2.0 / (1.0 - p * p));
    EXPECT_NEAR(student_t(p, 1.0) / one, 1.0, kRounding) << p;
    EXPECT_NEAR(student_t(p, 2.0) / two, 1.0, kRounding) << p;
    ++checked;
  }
  EXPECT_EQ(checked, 5);
  constexpr double kInfinite = std::numeric_limits<double>::infinity();
  EXPECT_NEAR(student_t(0.95, kInfinite), kNormal95, kRounding);
  // The normal distribution is its limit, from above.
  EXPECT_GT(student_t(0.95, 1e6), kNormal95);
  EXPECT_NEAR(student_t(0.95, 1e6), kNormal95, 1e-5);
}

}  // namespace
}  // namespace potshadow

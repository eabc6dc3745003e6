// SPDX-License-Identifier: MIT
#include "desktop/words/clay_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/words/sample.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

TotalShrinkage shrinkage(double percent, double sd_percent = 0.5) {
  return TotalShrinkage::from_percent_of_wet(percent, sd_percent).value();
}

Measurement measured_with(const TotalShrinkage& total) {
  Measurement measurement = made_up_measurement();
  measurement.clay.reset();
  measurement.shrinkage = total;
  return measurement;
}

// 235.1 mm at 12 ± 1 % of the wet length is made 235.1 / 0.88 = 267.16 mm; its ± is the root of the
// squares of 2.8 / 0.88 and 267.16 × 1 / 88. 5420 ml becomes 5420 / 0.88³ = 7953.
TEST(WetRows, EnlargeTheSizes) {
  const std::vector<WetRow> rows = wet_rows(measured_with(shrinkage(12.0)), LengthUnit::kMm);
  ASSERT_EQ(rows.size(), 8U);
  EXPECT_EQ(rows[0].label, "Height");
  EXPECT_EQ(rows[0].unit, "mm");
  EXPECT_EQ(rows[0].fired, "235.1");
  EXPECT_EQ(rows[0].fired_plus_minus, "2.8");
  EXPECT_EQ(rows[0].wet, "267.2");
  EXPECT_EQ(rows[0].wet_plus_minus, "4.4");
  EXPECT_EQ(rows[0].wet_sixteenths, "");
  EXPECT_TRUE(rows[0].leading);
  EXPECT_EQ(rows[7].unit, "ml");
  EXPECT_EQ(rows[7].wet, "7950");
}

TEST(WetRows, FollowTheShrinkageAskedFor) {
  const std::vector<WetRow> rows = wet_rows(measured_with(shrinkage(0.0, 0.0)), LengthUnit::kInch);
  ASSERT_EQ(rows.size(), 8U);
  EXPECT_EQ(rows[0].wet, rows[0].fired);
  EXPECT_EQ(rows[0].wet_sixteenths, "9¼");
}

// ASTM C326-03: shrinkage is counted in percent of the wet (plastic) length.
TEST(ShrinkageExample, CountsInPartsOfTheWetLength) {
  EXPECT_EQ(shrinkage_example(shrinkage(12.0)), "A 100 mm line on wet clay fires to 88 mm.");
  EXPECT_EQ(shrinkage_example(shrinkage(12.5)), "A 100 mm line on wet clay fires to 87.5 mm.");
  EXPECT_EQ(shrinkage_example(shrinkage(0.0)), "A 100 mm line on wet clay fires to 100 mm.");
  EXPECT_THAT(std::string(shrinkage_explained()), HasSubstr("mark 100 mm on the wet bar"));
}

TEST(Enlargement, IsTheInverseOfWhatIsLeft) {
  // 1 / 0.88 = 1.13636...
  EXPECT_EQ(enlargement_sentence(shrinkage(12.0)), "Make every length 1.136 times the original's.");
  EXPECT_EQ(enlargement_sentence(shrinkage(0.0)), "Make every length the original's own.");
}

// A clay whose vertical bars shrink by 20 % and horizontal ones by 10 %: a height grows by 1 / 0.8,
// a diameter by 1 / 0.9, and what it holds by the product of the one and the square of the other.
TEST(WetRows, EnlargeHeightsAndDiametersByTheirOwnBars) {
  ClayBody body;
  body.record = "ways";
  for (const double off : {-0.1, 0.0, 0.1}) {
    for (const BarWay way : {BarWay::kVertical, BarWay::kHorizontal}) {
      TestBar bar;
      bar.wet_mm = 100.0;
      bar.dry_mm = 94.0;
      bar.fired_mm = (way == BarWay::kVertical ? 80.0 : 90.0) + off;
      bar.way = way;
      body.bars.push_back(bar);
    }
  }
  Measurement measurement = made_up_measurement();
  measurement.project.clay = ProjectClay{};
  measurement.project.clay->record = "ways";
  measurement.clay.reset();
  add_clay(ClayBook{{body}}, measurement);
  ASSERT_TRUE(measurement.clay);
  const auto wet_of = [&](SizeName name) {
    for (const WetRow& row : wet_rows(measurement, LengthUnit::kMm)) {
      if (row.name == name) return std::stod(row.wet) / std::stod(row.fired);
    }
    return 0.0;
  };
  constexpr double kRoundedTo = 5e-3;  // half of the last digit that is shown, of the least size
  EXPECT_NEAR(wet_of(SizeName::kHeight), 1.0 / 0.8, kRoundedTo);
  EXPECT_NEAR(wet_of(SizeName::kHeightOfMax), 1.0 / 0.8, kRoundedTo);
  EXPECT_NEAR(wet_of(SizeName::kMaxDiameter), 1.0 / 0.9, kRoundedTo);
  EXPECT_NEAR(wet_of(SizeName::kRimDiameter), 1.0 / 0.9, kRoundedTo);
  EXPECT_NEAR(wet_of(SizeName::kCapacity), 1.0 / (0.8 * 0.9 * 0.9), kRoundedTo);
  EXPECT_EQ(enlargement_sentence(measurement.clay->figures, measurement.clay->total),
            "Make every height 1.250 times the original's, and every diameter 1.111 times.");
}

TEST(TypedShrinkage, TakesNumbersAsTheyAreWritten) {
  EXPECT_EQ(typed_shrinkage("12").value(), 12.0);
  EXPECT_EQ(typed_shrinkage(" 12.5 % ").value(), 12.5);
  EXPECT_EQ(typed_shrinkage("12,5").value(), 12.5);
  EXPECT_EQ(typed_shrinkage("0").value(), 0.0);
  EXPECT_EQ(typed_shrinkage("30").value(), 30.0);
  EXPECT_EQ(typed_shrinkage_doubt("0.5").value(), 0.5);
  EXPECT_EQ(typed_shrinkage_doubt("10").value(), 10.0);
}

TEST(TypedShrinkage, RefusesTheRestInWords) {
  const auto what = [](const char* text) { return typed_shrinkage(text).problem().what; };
  EXPECT_EQ(what("twelve"), "'twelve' is not a number.");
  EXPECT_EQ(what("  "), "There is no number here.");
  EXPECT_EQ(what("12 or thirteen, or perhaps more"), "What is typed here is not a number.");
  EXPECT_EQ(what("31"),
            "A shrinkage of 31.0 % is outside what clay does, 0 to 30 % of the wet "
            "length.");
  EXPECT_FALSE(typed_shrinkage("-1").ok());
  EXPECT_FALSE(typed_shrinkage("nan").ok());
  EXPECT_EQ(typed_shrinkage("x").problem().next,
            "Type the shrinkage from wet to fired in percent of the wet length, such as 12.");
  EXPECT_EQ(typed_shrinkage_doubt("11").problem().what,
            "11 percentage points are not how sure one can be of a shrinkage.");
  EXPECT_EQ(typed_shrinkage_doubt("11").problem().code, Code::kBadValue);
  EXPECT_EQ(typed_shrinkage_doubt("").problem().next,
            "Type how sure you are of the shrinkage, in percentage points, such as 0.5.");
  EXPECT_FALSE(typed_shrinkage_doubt("-0.1").ok());
}

}  // namespace
}  // namespace potshadow

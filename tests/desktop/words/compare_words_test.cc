// SPDX-License-Identifier: MIT
#include "desktop/words/compare_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/words/file_names.h"

namespace potshadow {
namespace {

constexpr int kClaims = 5;

SizeDifference difference(double original, double replica, double sd) {
  return size_difference(normal_measured(original, sd), normal_measured(replica, sd), 0.0, kClaims);
}

TEST(CompareWords, RowsHaveFiguresAndVerdicts) {
  VesselComparison c;
  c.sizes = {{SizeName::kHeight, difference(235.0, 250.0, 0.5)},
             {SizeName::kCapacity, difference(5374.0, 5390.0, 60.0)}};
  c.proportions = {{"Rim to maximum diameter", "rim_to_max_diameter", difference(0.68, 0.7, 0.05)}};
  const auto sizes = compared_size_rows(c, LengthUnit::kMm);
  ASSERT_EQ(sizes.size(), 2U);
  EXPECT_EQ(sizes[0].words, "Height");
  EXPECT_EQ(sizes[0].original, "235.0 ± 1.0");
  EXPECT_EQ(sizes[0].difference, "15.0 ± 1.8");
  EXPECT_EQ(sizes[0].verdict, "larger");
  EXPECT_TRUE(sizes[0].differs);
  EXPECT_EQ(sizes[1].words, "Capacity to the brim, ml");
  EXPECT_FALSE(sizes[1].differs);
  EXPECT_EQ(compared_size_rows(c, LengthUnit::kInch)[0].difference, "0.591 ± 0.072");
  const auto proportions = compared_proportion_rows(c);
  ASSERT_EQ(proportions.size(), 1U);
  EXPECT_EQ(proportions[0].original, "0.680 ± 0.098");
  EXPECT_EQ(proportions[0].verdict, "cannot be told");
}

TEST(CompareWords, AGapIsSaidWhereItIs) {
  GapRow row;
  row.at = {100.0, 120.0};
  row.part = ProfilePart::kShoulder;
  row.gap_mm = normal_measured(-2.3, 0.5);
  EXPECT_EQ(gap_words(row, LengthUnit::kMm),
            "120 mm up, at the shoulder: 2.3 ± 1.0 mm farther in.");
  row.differs = true;
  row.gap_mm = normal_measured(2.3, 0.5);
  EXPECT_EQ(gap_words(row, LengthUnit::kCm),
            "12.0 cm up, at the shoulder: 0.23 ± 0.10 cm farther out. Beyond doubt.");
}

TEST(CompareWords, ScalesAndAreasAreSaid) {
  ShapeDifference shape;
  shape.scale = normal_measured(1.06, 0.006);
  shape.upright_scale = normal_measured(1.05, 0.007);
  shape.across_scale = normal_measured(1.07, 0.008);
  shape.rms_mm = 1.44;
  shape.area_mm2 = 320.0;
  EXPECT_EQ(scales_words(shape),
            "All over 1.060 ± 0.012 times the original, heights 1.050 ± 0.014, widths 1.070 ± "
            "0.016.");
  EXPECT_EQ(apart_words(shape, LengthUnit::kMm),
            "1.4 mm apart on average, with 3.2 cm² between them on each side.");
}

TEST(CompareWords, FilesAreNamedAfterThePot) {
  EXPECT_EQ(comparison_file_name("Shelf jar", ".svg"), "Shelf jar compared.svg");
  EXPECT_EQ(comparison_file_name("..", ".pdf"), "Pots compared.pdf");
}

}  // namespace
}  // namespace potshadow

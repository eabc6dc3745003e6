// SPDX-License-Identifier: MIT
#include "desktop/words/stage_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>

#include "desktop/words/sample.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

Measurement with_clay(double percent, double sd_percent) {
  Measurement measurement = made_up_measurement();
  Project project;
  project.clay = ProjectClay();
  project.clay->shrinkage_percent = percent;
  project.clay->shrinkage_sd_percent = sd_percent;
  measurement.clay = *project_clay(project, {});
  measurement.shrinkage = measurement.clay->total;
  return measurement;
}

// 235.1 mm fired at 12 % of the wet length is 235.1 / 0.88 = 267.2 mm wet.
TEST(StageRows, GoFromWetToFired) {
  const std::vector<StageRow> rows = stage_rows(with_clay(12.0, 0.5), LengthUnit::kMm);
  ASSERT_EQ(rows.size(), 8U);
  EXPECT_EQ(rows[0].label, "Height");
  EXPECT_EQ(rows[0].value.front(), "267.2");
  EXPECT_EQ(rows[0].plus_minus.front(), "4.4");
  EXPECT_EQ(rows[0].value.back(), "235.1");
  int compared = 0;
  for (std::size_t i = 1; i < kStages.size(); ++i) {
    EXPECT_LT(std::stod(rows[0].value[i]), std::stod(rows[0].value[i - 1]));
    ++compared;
  }
  EXPECT_EQ(compared, 3);
  EXPECT_EQ(rows[7].unit, "ml");
}

TEST(StageRows, NameTheGreaterDoubt) {
  const Measurement sure_clay = with_clay(12.0, 0.01);
  EXPECT_FALSE(stage_rows(sure_clay, LengthUnit::kMm).at(0).by_clay);
  EXPECT_THAT(stage_rows(sure_clay, LengthUnit::kMm).at(0).doubt, StartsWith("photo "));
  EXPECT_THAT(stage_doubt_sentence(sure_clay), StartsWith("The photograph brings more"));
  const Measurement open_clay = with_clay(12.0, 8.0);
  EXPECT_TRUE(stage_rows(open_clay, LengthUnit::kMm).at(0).by_clay);
  EXPECT_THAT(stage_doubt_sentence(open_clay), HasSubstr("more test bars help most"));
}

TEST(StageRows, NeedAClayAndAScale) {
  Measurement measurement = made_up_measurement();
  measurement.clay.reset();
  EXPECT_TRUE(stage_rows(measurement, LengthUnit::kMm).empty());
  EXPECT_EQ(stage_doubt_sentence(measurement), "");
  measurement = with_clay(12.0, 0.5);
  measurement.answer.scale = ScaleSource::kNone;
  EXPECT_TRUE(stage_rows(measurement, LengthUnit::kMm).empty());
}

TEST(StageTitle, StartsLarge) { EXPECT_EQ(stage_title(Stage::kLeatherHard), "Leather-hard"); }

}  // namespace
}  // namespace potshadow

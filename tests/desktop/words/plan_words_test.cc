// SPDX-License-Identifier: MIT
#include "desktop/words/plan_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/words/sample.h"
#include "project/plan_report.h"

namespace potshadow {
namespace {

using ::testing::EndsWith;
using ::testing::StartsWith;

BuildPlan sample_plan() {
  Measurement measurement = sample_measurement();
  add_clay(ClayBook(), measurement);
  return plan_for(measurement, {}).value();
}

TEST(CoilRows, RunFromCradleToRim) {
  const BuildPlan plan = sample_plan();
  const std::vector<CoilRow> rows = coil_rows(plan, LengthUnit::kMm);
  ASSERT_EQ(rows.size(), plan.coils.size());
  ASSERT_GE(rows.size(), 10U);
  EXPECT_EQ(rows.front().number, "1");
  EXPECT_EQ(rows.front().from, fixed_text(plan.cradle.line_mm, 0));
  int joined = 0;
  int sags = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    EXPECT_EQ(rows[i].from, rows[i - 1].to);
    ++joined;
  }
  for (const CoilRow& row : rows) sags += row.sags ? 1 : 0;
  EXPECT_EQ(joined, static_cast<int>(rows.size()) - 1);
  EXPECT_EQ(sags, 1);  // the jar turns inward at one place
  EXPECT_THAT(coil_rows(plan, LengthUnit::kInch).front().from, testing::HasSubstr("."));
}

// Twelve motifs share the girth, which is pi times a diameter.
TEST(BandRows, ShareTheGirth) {
  Measurement measurement = sample_measurement();
  measurement.project.bands = {{"Waves", 90.0, 110.0, 12, {}}, {"", 40.0, std::nullopt, 0, {}}};
  add_clay(ClayBook(), measurement);
  const BuildPlan plan = plan_for(measurement, {}).value();
  const std::vector<BandRow> rows = band_rows(plan, LengthUnit::kMm);
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[0].name, "Waves, lower line");
  EXPECT_EQ(rows[1].name, "Waves, upper line");
  EXPECT_EQ(rows[2].name, "Band 2");
  EXPECT_EQ(rows[2].each, "");
  EXPECT_EQ(rows[1].repeats, "12");
  constexpr double kPrinted = 0.05;  // rounded to a tenth
  EXPECT_NEAR(12.0 * std::stod(rows[1].each), std::stod(rows[1].girth), 13.0 * kPrinted);
  // 90 mm fired is 90 / 0.88 wet.
  EXPECT_NEAR(std::stod(rows[0].height), 90.0 / 0.88, kPrinted);
}

TEST(AmountRows, SayWhatToWeighOut) {
  const std::vector<AmountRow> rows = amount_rows(sample_plan());
  ASSERT_EQ(rows.size(), 7U);
  EXPECT_EQ(rows[0].label, "Weigh out, wet");
  EXPECT_THAT(rows[0].value, EndsWith(" g"));
  EXPECT_EQ(rows[0].meaning, "With 10 % for scraping.");
  EXPECT_THAT(rows[5].value, EndsWith(" ml"));
}

TEST(PlanSentences, AreAboutThePot) {
  const BuildPlan plan = sample_plan();
  EXPECT_THAT(cradle_sentence(plan, LengthUnit::kMm), StartsWith("Up to a line "));
  EXPECT_THAT(sag_sentence(plan, LengthUnit::kMm), StartsWith("It turns inward fastest "));
  BuildPlan open = plan;
  open.sag.reset();
  EXPECT_EQ(sag_sentence(open, LengthUnit::kMm),
            "The wall nowhere leans inward, so it hardly sags.");
  EXPECT_THAT(coils_sentence(plan), StartsWith("All together "));
  EXPECT_EQ(lean_words(12.4), "12° out");
  EXPECT_EQ(lean_words(-8.0), "8° in");
  EXPECT_EQ(lean_words(0.2), "upright");
}

TEST(ThicknessText, IsAsTyped) {
  EXPECT_EQ(thickness_text(6.82, LengthUnit::kMm), "6.8");
  EXPECT_EQ(thickness_text(6.35, LengthUnit::kInch), "0.25");
}

}  // namespace
}  // namespace potshadow

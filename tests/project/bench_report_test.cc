// SPDX-License-Identifier: MIT
#include "project/bench_report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

#include "project/bench_pot.h"
#include "project/bench_sheet.h"
#include "project/json_text.h"
#include "project/plan_report.h"
#include "project/typed_bench.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

BenchInput input_of(Stage stage, const std::vector<std::string>& texts) {
  BenchInput input{stage};
  for (const std::string& text : texts) {
    input.readings.push_back(*typed_bench_size(text, LengthUnit::kMm));
  }
  return input;
}

BenchAnswer answer_of(Stage stage, const std::vector<std::string>& texts) {
  const auto answer = check_pot(bowl_to_make(), input_of(stage, texts));
  EXPECT_TRUE(answer.ok()) << answer.problem().what;
  return *answer;
}

// 200 fired is 228.57 wet.
TEST(CheckPot, OneDiameterIsEnough) {
  const BenchAnswer answer = answer_of(Stage::kWet, {"girth:max=718"});
  ASSERT_THAT(answer.names, ElementsAre(SizeName::kMaxDiameter));
  EXPECT_NEAR(answer.check.sizes[0].target.value, 200.0 * 8.0 / 7.0, 1e-9);
  EXPECT_EQ(answer.check.sizes[0].verdict, Verdict::kRight);
}

TEST(CheckPot, ReadingsOfOneSizeAreOne) {
  const BenchAnswer answer = answer_of(Stage::kWet, {"max=240", "height=91.5", "max=244"});
  ASSERT_THAT(answer.names, ElementsAre(SizeName::kHeight, SizeName::kMaxDiameter));
  EXPECT_EQ(answer.check.sizes[1].measured.value, 242.0);
  EXPECT_EQ(answer.check.sizes[1].verdict, Verdict::kLarger);
  EXPECT_EQ(answer.check.first, 1U);
}

TEST(CheckPot, ABenchPhotographCounts) {
  Measurement photograph = low_bowl();
  photograph.answer.sizes = {
      {.name = SizeName::kMaxDiameter, .measured = normal_measured(228.0, 2.0)},
      {.name = SizeName::kBaseDiameter, .measured = normal_measured(91.0, 2.0)}};
  BenchInput input{Stage::kWet};
  input.photograph = &photograph;
  const auto alone = check_pot(bowl_to_make(), input);
  ASSERT_TRUE(alone.ok());
  EXPECT_THAT(alone->names, ElementsAre(SizeName::kMaxDiameter, SizeName::kBaseDiameter));
  EXPECT_EQ(alone->check.sizes[0].measured, normal_measured(228.0, 2.0));
  input.readings.push_back(*typed_bench_size("girth:max=720", LengthUnit::kMm));
  const auto both = check_pot(bowl_to_make(), input);
  ASSERT_TRUE(both.ok());
  EXPECT_LT(both->check.sizes[0].measured.sd, 0.5);
  EXPECT_GT(both->check.sizes[0].measured.value, 228.5);
  photograph.answer.scale = ScaleSource::kNone;
  EXPECT_THAT(check_pot(bowl_to_make(), input).problem().what, HasSubstr("bench photograph"));
}

// One photograph's scale is common to all sizes; the answer says how far.
TEST(CheckPot, TakesWhatThePhotographsSizesHaveInCommon) {
  Measurement original = bowl_to_make();
  const BenchInput input = input_of(Stage::kWet, {"girth:max=718", "base=91±0.1", "height=91±0.1"});
  const double apart = check_pot(original, input)->check.widening;
  const std::size_t count = original.answer.sizes.size();
  original.answer.size_correlation.assign(count, std::vector<double>(count, 0.98));
  for (std::size_t i = 0; i < count; ++i) original.answer.size_correlation[i][i] = 1.0;
  EXPECT_LT(check_pot(original, input)->check.widening, apart - 0.05);
}

TEST(CheckPot, SaysWhatIsMissing) {
  const BenchInput wet = input_of(Stage::kWet, {"max=228"});
  Measurement no_scale = bowl_to_make();
  no_scale.answer.scale = ScaleSource::kNone;
  EXPECT_THAT(check_pot(no_scale, wet).problem().what, HasSubstr("how big the original is"));
  Measurement no_clay = bowl_to_make();
  no_clay.clay.reset();
  EXPECT_THAT(check_pot(no_clay, wet).problem().what, HasSubstr("how much its clay shrinks"));
  // A fired pot needs no clay.
  EXPECT_TRUE(check_pot(no_clay, input_of(Stage::kFired, {"max=200"})).ok());
  const auto none = check_pot(bowl_to_make(), input_of(Stage::kWet, {"neck=50"}));
  EXPECT_EQ(none.problem().code, Code::kCannotBeAnswered);
  const BenchAnswer some = answer_of(Stage::kWet, {"neck=50", "max=228"});
  ASSERT_EQ(some.notes.size(), 1U);
  EXPECT_THAT(some.notes[0].text, HasSubstr("neck diameter is not known"));
  EXPECT_THAT(check_pot(bowl_to_make(), input_of(Stage::kWet, {"max=-3"})).problem().what,
              HasSubstr("Of the maximum diameter: a pot cannot measure"));
  EXPECT_THAT(check_pot(bowl_to_make(), input_of(Stage::kWet, {"max=9"})).problem().what,
              HasSubstr("inches"));
}

TEST(BenchText, SaysVerdictsAndWhatToDo) {
  const Measurement original = bowl_to_make();
  const auto text = [&](Stage stage, const std::vector<std::string>& sizes) {
    return bench_text(original, answer_of(stage, sizes), {}, "bowl.potshadow", LengthUnit::kMm);
  };
  const std::string wet = text(Stage::kWet, {"girth:max=770", "height=91"});
  int found = 0;
  for (const char* words :
       {"Low bowl: the pot on the bench, wet", "it should be", "when fired", "larger", "right",
        "Correct first the maximum diameter: it is larger by", "Press the wall in", "Buff mix",
        "hold all at once"}) {
    EXPECT_THAT(wet, HasSubstr(words));
    ++found;
  }
  EXPECT_EQ(found, 9);
  const std::string dry = text(Stage::kBoneDry, {"girth:max=740"});
  EXPECT_THAT(dry, HasSubstr("cannot be corrected any more"));
  EXPECT_THAT(dry, Not(HasSubstr("at once")));
  const std::string fired = text(Stage::kFired, {"girth:max=690"});
  EXPECT_THAT(fired, HasSubstr("can only be made anew"));
  EXPECT_THAT(fired, Not(HasSubstr("when fired")));
  EXPECT_THAT(text(Stage::kWet, {"capacity=1800±400"}), HasSubstr("Cannot be told yet"));
}

TEST(BenchOutput, JsonAndCsvHoldEachSize) {
  const Measurement original = bowl_to_make();
  const BenchAnswer answer =
      answer_of(Stage::kWet, {"girth:max=770", "height=91", "capacity=1800"});
  const auto json =
      nlohmann::json::parse(bench_json(original, answer, {}, "bowl.potshadow")).at("check");
  EXPECT_EQ(json.at("stage"), "wet");
  EXPECT_EQ(json.at("correct_first"), "max_diameter");
  EXPECT_EQ(json.at("sizes_mm").size(), 2U);
  const auto& widest = json.at("sizes_mm").at("max_diameter");
  EXPECT_EQ(widest.at("verdict"), "larger");
  EXPECT_NEAR(widest.at("difference").at("value").get<double>(),
              answer.check.sizes[1].difference.value, 1e-12);
  EXPECT_LE(widest.at("difference_together").at("low95").get<double>(),
            widest.at("difference").at("low95").get<double>());
  EXPECT_FALSE(json.at("capacity_ml").is_null());
  EXPECT_TRUE(json.at("shrank").empty());
  const std::string csv = bench_csv(original, answer, "bowl.potshadow");
  EXPECT_THAT(csv, HasSubstr("Low bowl,wet,max_diameter,"));
  EXPECT_THAT(csv, HasSubstr(",larger,"));
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 4);
}

TEST(BenchSheetContent, HoldsSizesPlanAndCautions) {
  const Measurement original = bowl_to_make();
  const auto plan = plan_for(original, {});
  ASSERT_TRUE(plan.ok());
  const BenchSheetContent content =
      bench_sheet_content(original, *plan, "bowl.potshadow", LengthUnit::kMm,
                          std::chrono::system_clock::time_point(std::chrono::hours(24)));
  EXPECT_EQ(content.vessel_name, "Low bowl");
  EXPECT_EQ(content.date_line, "2 January 1970");
  ASSERT_EQ(content.sizes.size(), 5U);
  EXPECT_NEAR(content.sizes[1].at_stage[0].value, 200.0 * 8.0 / 7.0, 1e-9);
  EXPECT_EQ(content.sizes[1].at_stage[3], normal_measured(200.0, 1.0));
  EXPECT_TRUE(content.sizes[4].is_volume);
  EXPECT_EQ(content.plan.coils.size(), plan->coils.size());
  EXPECT_GE(content.cautions.size(), 5U);
}

}  // namespace
}  // namespace potshadow

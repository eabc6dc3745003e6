// SPDX-License-Identifier: MIT
#include "project/plan_report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "project/json_text.h"
#include "project/low_bowl.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

Measurement bowl() {
  Measurement measurement = low_bowl();
  ProjectClay clay;
  clay.name = "Buff mix";
  clay.shrinkage_percent = 12.5;
  measurement.project.clay = clay;
  add_clay(ClayBook(), measurement);
  return measurement;
}

TEST(PlanFor, EnlargesTheVesselAndItsWall) {
  const auto plan = plan_for(bowl(), {});
  ASSERT_TRUE(plan.ok()) << plan.problem().what;
  // One eighth of shrinkage: 8/7. The project's wall is 6 mm fired.
  constexpr double kRounding = 1e-9;
  EXPECT_NEAR(plan->request.wall.foot_mm, 6.0 * 8.0 / 7.0, kRounding);
  EXPECT_NEAR(plan->coils.back().high_mm, 80.0 * 8.0 / 7.0, kRounding);
  EXPECT_NEAR(plan->cradle.floor_mm, 80.0 * 8.0 / 7.0, kRounding);
  EXPECT_EQ(plan->request.coil_mm, 12.0);
  PlanChoices thick;
  thick.wall_mm = 12.0;
  EXPECT_EQ(plan_for(bowl(), thick)->request.coil_mm, 18.0);
}

TEST(PlanFor, TakesTheProjectsChoicesUnlessOthersAreTyped) {
  Measurement measurement = bowl();
  measurement.project.plan = ProjectPlan{.wall_mm = 9.0, .wall_rim_mm = 5.0, .coil_mm = 16.0};
  const auto own = plan_for(measurement, {});
  ASSERT_TRUE(own.ok()) << own.problem().what;
  EXPECT_EQ(own->request.wall, (WallThickness{9.0, 5.0}));
  EXPECT_EQ(own->request.coil_mm, 16.0);
  EXPECT_EQ(own->request.allowance_percent, 10.0);
  PlanChoices typed;
  typed.wall_mm = 7.0;
  typed.allowance_percent = 20.0;
  const auto other = plan_for(measurement, typed);
  ASSERT_TRUE(other.ok()) << other.problem().what;
  // A wall that is typed for the foot alone is the same up to the rim.
  EXPECT_EQ(other->request.wall, (WallThickness{7.0, 7.0}));
  EXPECT_EQ(other->request.coil_mm, 16.0);
  EXPECT_EQ(other->request.allowance_percent, 20.0);
}

TEST(PlanFor, SaysWhatIsMissing) {
  Measurement no_clay = low_bowl();
  EXPECT_EQ(plan_for(no_clay, {}).problem().code, Code::kCannotBeAnswered);
  EXPECT_THAT(plan_for(no_clay, {}).problem().what, HasSubstr("how much its clay shrinks"));
  Measurement no_scale = bowl();
  no_scale.answer.scale = ScaleSource::kNone;
  EXPECT_THAT(plan_for(no_scale, {}).problem().what, HasSubstr("how big"));
}

TEST(PlanText, SaysClayCradleCoilsAndCautions) {
  const Measurement measurement = bowl();
  const auto plan = plan_for(measurement, {});
  ASSERT_TRUE(plan.ok());
  const std::string text = plan_text(measurement, *plan, "a.potshadow", LengthUnit::kMm);
  int found = 0;
  for (const char* words :
       {"Low bowl: how to build it, wet", "1.143 times", "Weigh out, wet", "and water", "cradle",
        "leans", "Fired, empty", "fitted respirator", "hardly sags", "Buff mix"}) {
    EXPECT_THAT(text, HasSubstr(words));
    ++found;
  }
  EXPECT_EQ(found, 10);
  EXPECT_THAT(plan_text(measurement, *plan, "a", LengthUnit::kInch), HasSubstr("girth in"));
}

TEST(PlanJson, HoldsEveryCoil) {
  const Measurement measurement = bowl();
  const auto plan = plan_for(measurement, {});
  ASSERT_TRUE(plan.ok());
  const auto json = nlohmann::json::parse(plan_json(measurement, *plan, "a.potshadow")).at("plan");
  EXPECT_EQ(json.at("coils").size(), plan->coils.size());
  double clay = json.at("cradle").at("clay_ml").get<double>();
  for (const auto& coil : json.at("coils")) clay += coil.at("clay_ml").get<double>();
  constexpr double kRounding = 1e-6;
  EXPECT_NEAR(clay / json.at("clay_ml").get<double>(), 1.0, kRounding);
  EXPECT_TRUE(json.at("sag").is_null());
  EXPECT_GT(json.at("weigh_out_g").at("high95").get<double>(),
            json.at("weigh_out_g").at("value").get<double>());
}

// One eighth: a band at 40 of 80 mm lies at 45.7 of 91.4 on the wet pot.
TEST(PlanBands, AreSpacedAtTheSizeAskedFor) {
  Measurement measurement = bowl();
  measurement.project.bands = {{"Zigzag", 20.0, 40.0, 12, {}}, {"", 60.0, {}, 0, {}}};
  const auto wet = plan_for(measurement, {});
  ASSERT_TRUE(wet.ok()) << wet.problem().what;
  ASSERT_EQ(wet->bands.size(), 2U);
  EXPECT_NEAR(wet->bands[0].high->height_mm, 40.0 * 8.0 / 7.0, 1e-9);
  PlanChoices dry;
  dry.band_stage = Stage::kFired;
  const auto fired = plan_for(measurement, dry);
  EXPECT_NEAR(wet->bands[0].low.girth_mm / fired->bands[0].low.girth_mm, 8.0 / 7.0, 1e-9);
  const std::string text = plan_text(measurement, *wet, "a", LengthUnit::kMm);
  int found = 0;
  for (const char* words : {"Painted bands, on the pot wet", "Zigzag, lower line",
                            "Zigzag, upper line", "Band 2", "repeats", "up the wall"}) {
    EXPECT_THAT(text, HasSubstr(words));
    ++found;
  }
  EXPECT_EQ(found, 6);
  const auto json = nlohmann::json::parse(plan_json(measurement, *fired, "a")).at("plan");
  EXPECT_EQ(json.at("bands_at"), "fired");
  EXPECT_NEAR(json.at("bands")[0].at("low").at("spacing_mm").get<double>() * 12.0,
              json.at("bands")[0].at("low").at("girth_mm").get<double>(), 1e-9);
  EXPECT_TRUE(json.at("bands")[1].at("high").is_null());
  measurement.project.bands[0].height_mm = 300.0;
  EXPECT_THAT(plan_for(measurement, {}).problem().what, HasSubstr("'Zigzag' does not lie"));
}

TEST(PlanFor, FollowsVerticalAndHorizontalBars) {
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
  Measurement measurement = low_bowl();
  measurement.project.clay = ProjectClay{};
  measurement.project.clay->record = "ways";
  add_clay(ClayBook{{body}}, measurement);
  const auto plan = plan_for(measurement, {});
  ASSERT_TRUE(plan.ok()) << plan.problem().what;
  EXPECT_NEAR(plan->coils.back().high_mm, 80.0 / 0.8, 1e-6);
  EXPECT_NEAR(plan->cradle.floor_mm, 80.0 / 0.9, 1e-6);
  const std::string text = plan_text(measurement, *plan, "a", LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("heights 1.250 times the fired ones, diameters 1.111"));
  const auto json = nlohmann::json::parse(plan_json(measurement, *plan, "a")).at("plan");
  EXPECT_NEAR(json.at("enlargement_upright").get<double>(), 1.25, 1e-9);
  EXPECT_NEAR(json.at("enlargement_across").get<double>(), 1.0 / 0.9, 1e-9);
}

}  // namespace
}  // namespace potshadow

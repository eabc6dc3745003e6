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

}  // namespace
}  // namespace potshadow

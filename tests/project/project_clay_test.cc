// SPDX-License-Identifier: MIT
#include "project/project_clay.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "project/answer_text.h"
#include "project/low_bowl.h"
#include "project/report.h"
#include "project/stages_report.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::Not;

ClayBook book() {
  ClayBody body;
  body.record = "buff-mix";
  body.name = "Buff mix";
  for (const double celsius : {900.0, 1000.0}) {
    for (const double off : {-0.2, 0.0, 0.2}) {
      TestBar bar;
      bar.wet_mm = 100.0;
      bar.dry_mm = 94.0 + off;
      bar.fired_mm = 104.0 - 0.016 * celsius + off;  // 89.6 at 900 °C, 88 at 1000 °C
      bar.firing_c = celsius;
      body.bars.push_back(bar);
    }
  }
  return {{body}};
}

Project project_with(const ProjectClay& clay) {
  Project project;
  project.clay = clay;
  return project;
}

ProjectClay by_record(double celsius) {
  ProjectClay clay;
  clay.record = "buff-mix";
  clay.firing_c = celsius;
  return clay;
}

TEST(ProjectClayFigures, AreTheRecordsAtTheProjectsHeat) {
  const auto at_1000 = project_clay(project_with(by_record(1000.0)), book());
  ASSERT_TRUE(at_1000.ok() && at_1000->has_value());
  EXPECT_EQ((*at_1000)->name, "Buff mix");
  EXPECT_TRUE((*at_1000)->from_book);
  EXPECT_NEAR((*at_1000)->total.fraction_of_wet(), 0.12, 1e-12);
  const auto at_950 = project_clay(project_with(by_record(950.0)), book());
  ASSERT_TRUE(at_950.ok() && at_950->has_value());
  EXPECT_NEAR((*at_950)->total.fraction_of_wet(), 0.112, 1e-12);
}

TEST(ProjectClayFigures, ATypedShrinkageGoesFirst) {
  ProjectClay clay = by_record(1000.0);
  clay.shrinkage_percent = 10.0;
  const auto found = project_clay(project_with(clay), book());
  ASSERT_TRUE(found.ok() && found->has_value());
  EXPECT_FALSE((*found)->from_book);
  EXPECT_NEAR((*found)->total.fraction_of_wet(), 0.10, 1e-12);
  EXPECT_NEAR((*found)->total.half95_fraction(), kNormal95 * 0.005, 1e-12);
}

TEST(ProjectClayFigures, NothingIsSaidWhereNothingIsKnown) {
  EXPECT_FALSE(project_clay(Project(), book())->has_value());
  EXPECT_FALSE(project_clay(project_with({}), book())->has_value());
  ProjectClay other;
  other.record = "another";
  const auto missing = project_clay(project_with(other), book());
  ASSERT_FALSE(missing.ok());
  EXPECT_THAT(missing.problem().what, HasSubstr("'another' is not in your book"));
  const auto beyond = project_clay(project_with(by_record(1200.0)), book());
  ASSERT_FALSE(beyond.ok());
  EXPECT_EQ(beyond.problem().code, Code::kCannotBeAnswered);
}

Measurement bowl_of(const ProjectClay& clay) {
  Measurement measurement = low_bowl();
  const auto add = [&](SizeName name, const Measured& measured) {
    MeasuredSize size;
    size.name = name;
    size.measured = measured;
    measurement.answer.sizes.push_back(size);
  };
  add(SizeName::kHeight, normal_measured(80.0, 1.5));
  add(SizeName::kMaxDiameter, normal_measured(200.0, 0.02));
  add(SizeName::kCapacity, normal_measured(1000.0, 30.0));
  measurement.project.clay = clay;
  add_clay(book(), measurement);
  return measurement;
}

std::string line_with(const std::string& text, const std::string& words, std::size_t from) {
  const std::size_t at = text.find(words, from);
  return at == std::string::npos ? "" : text.substr(at, text.find('\n', at) - at);
}

TEST(Stages, EverySizeIsPrintedAtEveryStage) {
  const Measurement measurement = bowl_of(by_record(1000.0));
  const std::string text = answer_text(measurement, "a.potshadow", LengthUnit::kMm);
  const std::size_t stages = text.find("At each stage");
  ASSERT_NE(stages, std::string::npos);
  const std::string height = line_with(text, "Height", stages);
  // 80 / 0.88 wet; bars of 94 mm dry and 88 fired: 80 x 94 / 88 = 85.5 dry.
  EXPECT_THAT(height, HasSubstr("90.9 ±"));
  EXPECT_THAT(height, HasSubstr("85.5 ±"));
  EXPECT_THAT(height, HasSubstr("80.0 ± 2.9"));
  EXPECT_THAT(height, HasSubstr("photo "));
  EXPECT_THAT(line_with(text, "Maximum diameter", stages), HasSubstr("clay "));
  EXPECT_THAT(text, HasSubstr("12.00 ±"));
  // The wet size beside the others is the same.
  EXPECT_THAT(text.substr(0, stages), HasSubstr("90.9 ±"));
}

TEST(Stages, AreInTheJson) {
  const Json json =
      Json::parse(report_json({{"a.potshadow", bowl_of(by_record(1000.0))}})).at("projects")[0];
  const Json& stages = json.at("stages");
  constexpr double kRounding = 1e-9;
  const auto height = [&](const char* stage) {
    return stages.at(stage).at("sizes_mm").at("height");
  };
  EXPECT_NEAR(height("wet").at("value").get<double>(), 80.0 / 0.88, kRounding);
  EXPECT_NEAR(height("fired").at("value").get<double>(), 80.0, kRounding);
  EXPECT_EQ(height("fired").at("clay_share"), 0.0);
  EXPECT_GT(height("wet").at("clay_share").get<double>(), 0.0);
  EXPECT_LT(height("wet").at("clay_share").get<double>(), 0.5);
  EXPECT_GT(height("leather_hard").at("value").get<double>(),
            height("bone_dry").at("value").get<double>());
  EXPECT_NEAR(stages.at("wet").at("capacity_ml").at("value").get<double>(),
              1000.0 / (0.88 * 0.88 * 0.88), 1e-6);
  EXPECT_EQ(json.at("clay").at("total_percent").at("basis"), "wet");
  EXPECT_EQ(json.at("clay").at("firing_percent").at("basis"), "bone_dry");
  EXPECT_EQ(json.at("clay").at("total_percent").at("bars").size(), 3U);
  EXPECT_NEAR(json.at("wet_mm").at("height").at("value").get<double>(), 80.0 / 0.88, kRounding);
}

TEST(Stages, WhatTheBookCannotTellIsADoubtfulNote) {
  const Measurement beyond = bowl_of(by_record(1200.0));
  EXPECT_FALSE(beyond.shrinkage.has_value());
  EXPECT_TRUE(beyond.answer.notes.back().doubtful);
  EXPECT_THAT(beyond.answer.notes.back().text, HasSubstr("lies beyond"));
  EXPECT_THAT(answer_text(beyond, "a", LengthUnit::kMm), Not(HasSubstr("At each stage")));
  const Json json = Json::parse(report_json({{"a", beyond}})).at("projects")[0];
  EXPECT_TRUE(json.at("clay").is_null());
  EXPECT_TRUE(json.at("stages").is_null());
}

}  // namespace
}  // namespace potshadow

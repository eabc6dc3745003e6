// SPDX-License-Identifier: MIT
#include "project/report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <limits>
#include <nlohmann/json.hpp>
#include <string>

#include "project/low_bowl.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::EndsWith;
using testing::HasSubstr;
using Json = nlohmann::ordered_json;

// The bowl with figures chosen so that none is short in decimals.
Measurement bowl() {
  Measurement measurement = low_bowl();
  const auto add = [&](SizeName name, double value) {
    MeasuredSize size{name, normal_measured(value, value / 300.0), value / 700.0, {}};
    size.budget[0] = 0.75;
    size.budget[static_cast<std::size_t>(DoubtSource::kWall)] = 0.25;
    measurement.answer.sizes.push_back(size);
  };
  add(SizeName::kHeight, 80.0 + 1.0 / 3.0);
  add(SizeName::kMaxDiameter, 200.1);
  add(SizeName::kHeightOfMax, 80.2);
  add(SizeName::kRimDiameter, 199.0 + 1e-9);
  add(SizeName::kBaseDiameter, 79.7);
  add(SizeName::kCapacity, 1234.5678901234567);
  measurement.answer.proportions.push_back(
      {"height_to_max_diameter", "Height to maximum diameter", normal_measured(0.401, 0.002)});
  return measurement;
}

const Measured& size_of(const Measurement& measurement, SizeName name) {
  return find_size(measurement.answer, name)->measured;
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& item : object.items()) keys.push_back(item.key());
  return keys;
}

TEST(ReportJson, HoldsEverythingWithEveryDigit) {
  const Measurement measurement = bowl();
  const std::string text = report_json({{"low-bowl.potshadow", measurement}});
  EXPECT_THAT(text, EndsWith("}\n"));
  const Json report = Json::parse(text);
  EXPECT_EQ(report.at("format"), 1);
  ASSERT_EQ(report.at("projects").size(), 1U);
  const Json& project = report.at("projects")[0];
  EXPECT_EQ(project.at("project"), "Low bowl");
  EXPECT_EQ(project.at("file"), "low-bowl.potshadow");
  EXPECT_EQ(project.at("photo"), "bowl.jpg");

  const Json& sizes = project.at("sizes_mm");
  EXPECT_THAT(keys_of(sizes),
              ElementsAre("height", "max_diameter", "height_of_max", "neck_diameter",
                          "height_of_neck", "rim_diameter", "base_diameter"));
  EXPECT_TRUE(sizes.at("neck_diameter").is_null());
  EXPECT_TRUE(sizes.at("height_of_neck").is_null());
  const Measured& height = size_of(measurement, SizeName::kHeight);
  EXPECT_EQ(sizes.at("height").at("value").get<double>(), height.value);  // to the last bit
  EXPECT_EQ(sizes.at("height").at("sd").get<double>(), height.sd);
  EXPECT_EQ(sizes.at("height").at("low95").get<double>(), height.low95);
  EXPECT_EQ(sizes.at("height").at("high95").get<double>(), height.high95);
  EXPECT_EQ(sizes.at("rim_diameter").at("value").get<double>(), 199.0 + 1e-9);
  EXPECT_EQ(project.at("capacity_ml").at("value").get<double>(), 1234.5678901234567);
  EXPECT_EQ(project.at("proportions").at("height_to_max_diameter").at("value"), 0.401);

  ASSERT_EQ(project.at("profile").size(), 2U);
  EXPECT_EQ(project.at("profile")[1].at("height_mm"), 80.0);
  EXPECT_EQ(project.at("profile")[1].at("radius_mm"), 100.0);
  EXPECT_EQ(project.at("profile")[1].at("sd_mm").get<double>(), 1.0 / 3.0);
  EXPECT_EQ(project.at("camera").at("focal_35mm"), 26.1);
  EXPECT_EQ(project.at("camera").at("distance_mm"), 812.75);
  EXPECT_EQ(project.at("camera").at("elevation_deg"), 17.25);
  EXPECT_EQ(project.at("fit").at("rms_px"), 0.8);
  EXPECT_EQ(project.at("fit").at("marks"), 120);
  ASSERT_EQ(project.at("fit").at("worst").size(), 2U);
  EXPECT_EQ(project.at("fit").at("worst")[0].at("mark"), "rim 7");
  EXPECT_EQ(project.at("fit").at("worst")[0].at("off_px"), 2.5);
  EXPECT_EQ(project.at("budget").at("capacity").at("wall"), 0.25);
  EXPECT_EQ(project.at("budget").at("height").at("marks"), 0.75);
  EXPECT_EQ(project.at("budget").at("height").size(), kDoubtCount);
  EXPECT_FALSE(project.at("budget").contains("neck_diameter"));
  ASSERT_EQ(project.at("notes").size(), 2U);
  EXPECT_EQ(project.at("notes")[1].at("text"), "A \"doubtful\" note.");
  EXPECT_EQ(project.at("notes")[1].at("doubtful"), true);
  EXPECT_TRUE(project.at("wet_mm").is_null());
  EXPECT_TRUE(project.at("shrinkage_percent_of_wet").is_null());
  EXPECT_TRUE(project.at("wet_capacity_ml").is_null());
  EXPECT_FALSE(project.contains("monte_carlo"));
}

TEST(ReportJson, ShowsBothIntervalsWhereTheyWereChecked) {
  Measurement measurement = bowl();
  const Measured height = size_of(measurement, SizeName::kHeight);
  const Measured rim = size_of(measurement, SizeName::kRimDiameter);
  const double half = height.high95 - height.value;
  measurement.monte_carlo = MonteCarlo{
      1000,
      2,
      7,
      {{SizeName::kHeight, height, 80.25, 0.75, height.value - half, height.value + 2.0 * half,
        0.25, 998},
       {SizeName::kRimDiameter, rim, rim.value, rim.sd, rim.low95, rim.high95, 0.0, 990}}};
  const Json json =
      Json::parse(report_json({{"a.potshadow", measurement}})).at("projects")[0].at("monte_carlo");
  EXPECT_THAT(keys_of(json), ElementsAre("draws", "failed", "seed", "sizes"));
  EXPECT_EQ(json.at("draws"), 1000);
  EXPECT_EQ(json.at("failed"), 2);
  EXPECT_EQ(json.at("seed"), 7);
  EXPECT_THAT(keys_of(json.at("sizes")), ElementsAre("height", "rim_diameter"));
  const Json& checked = json.at("sizes").at("height");
  EXPECT_EQ(checked.at("first_order").at("sd").get<double>(), height.sd);
  EXPECT_EQ(checked.at("first_order").at("high95").get<double>(), height.high95);
  EXPECT_EQ(checked.at("redrawn").at("mean"), 80.25);
  EXPECT_EQ(checked.at("redrawn").at("sd"), 0.75);
  EXPECT_EQ(checked.at("redrawn").at("high95").get<double>(), height.value + 2.0 * half);
  EXPECT_EQ(checked.at("draws"), 998);
  EXPECT_EQ(checked.at("not_redrawn"), 0.25);
  EXPECT_EQ(checked.at("used"), "redrawn");
  EXPECT_EQ(json.at("sizes").at("rim_diameter").at("used"), "first_order");
}

TEST(ReportJson, WetSizesFollowTheShrinkage) {
  // 12.5 % of the wet length: lengths grow by 8/7, volumes by its cube (ASTM C326-03 definitions).
  constexpr double kRounding = 1e-12;
  Measurement measurement = bowl();
  measurement.shrinkage = TotalShrinkage::from_percent_of_wet(12.5, 0.0).value();
  const Json project = Json::parse(report_json({{"a.potshadow", measurement}})).at("projects")[0];
  const double height = size_of(measurement, SizeName::kHeight).value;
  EXPECT_NEAR(project.at("wet_mm").at("height").at("value").get<double>() / height, 8.0 / 7.0,
              kRounding);
  EXPECT_TRUE(project.at("wet_mm").at("neck_diameter").is_null());
  EXPECT_NEAR(project.at("wet_capacity_ml").at("value").get<double>() / 1234.5678901234567,
              512.0 / 343.0, kRounding);
  EXPECT_EQ(project.at("shrinkage_percent_of_wet").at("value"), 12.5);
}

Json json_of(const Measurement& measurement) {
  return Json::parse(report_json({{"a.potshadow", measurement}})).at("projects")[0];
}

TEST(ReportJson, EachSizeOfAGuessedScaleSaysSo) {
  Measurement measurement = bowl();
  measurement.shrinkage = TotalShrinkage::from_percent_of_wet(12.5, 0.0).value();
  Json json = json_of(measurement);
  EXPECT_EQ(json.at("scale"), "known");
  EXPECT_EQ(json.at("profile_unit"), "mm");
  EXPECT_FALSE(json.at("sizes_mm").at("height").contains("guess"));
  measurement.answer.scale = ScaleSource::kGuess;
  json = json_of(measurement);
  EXPECT_EQ(json.at("scale"), "guess");
  std::size_t ran = 0;
  for (const char* size : {"height", "max_diameter", "height_of_max", "rim_diameter"}) {
    EXPECT_EQ(json.at("sizes_mm").at(size).at("guess"), true) << size;
    EXPECT_EQ(json.at("wet_mm").at(size).at("guess"), true) << size;
    ++ran;
  }
  EXPECT_EQ(ran, 4U);
  EXPECT_EQ(json.at("capacity_ml").at("guess"), true);
  EXPECT_EQ(json.at("wet_capacity_ml").at("guess"), true);
  EXPECT_TRUE(json.at("sizes_mm").at("neck_diameter").is_null());
  EXPECT_THAT(report_csv({{"a.potshadow", measurement}}), HasSubstr(",mm,guess\r\n"));
}

TEST(ReportJson, WithoutAScaleThereAreProportionsOnly) {
  Measurement measurement = bowl();
  measurement.shrinkage = TotalShrinkage::from_percent_of_wet(12.5, 0.0).value();
  measurement.answer.scale = ScaleSource::kNone;
  measurement.answer.sizes.clear();
  measurement.answer.rows = {{0.0, 50.0, 0.5}, {100.0, 125.0, 0.75}};
  const Json json = json_of(measurement);
  EXPECT_EQ(json.at("scale"), "none");
  EXPECT_EQ(json.at("sizes_mm").size(), 7U);
  std::size_t ran = 0;
  for (const auto& size : json.at("sizes_mm")) {
    EXPECT_TRUE(size.is_null());
    ++ran;
  }
  EXPECT_EQ(ran, 7U);
  EXPECT_TRUE(json.at("capacity_ml").is_null());
  EXPECT_TRUE(json.at("wet_mm").is_null());
  EXPECT_TRUE(json.at("wet_capacity_ml").is_null());
  EXPECT_EQ(json.at("proportions").at("height_to_max_diameter").at("value"), 0.401);
  EXPECT_EQ(json.at("profile_unit"), "percent_of_height");
  EXPECT_EQ(json.at("profile")[1], Json::parse(R"({"height_percent": 100.0, "radius_percent": 125.0,
                            "sd_percent": 0.75})"));
  EXPECT_TRUE(json.at("camera").at("distance_mm").is_null());
  const std::string csv = report_csv({{"a.potshadow", measurement}});
  EXPECT_THAT(csv, HasSubstr("\r\nLow bowl,height_to_max_diameter,0.401,0.002,"));
  EXPECT_THAT(csv, EndsWith(",ratio,none\r\n"));
}

TEST(ReportJson, EveryPhotographHasItsCamera) {
  Measurement measurement = bowl();
  measurement.project.photos.resize(3);
  measurement.project.photos[2].file = "from-the-left.jpg";
  measurement.photo_indices = {0, 2};
  measurement.answer.photos.push_back({.camera = {27.5, 0.5, 640.0, -3.0, 0.25}, .overlay = {}});
  const Json json = json_of(measurement);
  EXPECT_EQ(json.at("photo"), "bowl.jpg");
  EXPECT_EQ(json.at("photos"), Json::parse(R"(["bowl.jpg", "from-the-left.jpg"])"));
  ASSERT_EQ(json.at("cameras").size(), 2U);
  EXPECT_EQ(json.at("cameras")[0], json.at("camera"));
  EXPECT_EQ(json.at("cameras")[1].at("focal_35mm"), 27.5);
  EXPECT_EQ(json.at("cameras")[1].at("elevation_deg"), -3.0);
}

TEST(ReportJson, HoldsAdviceAndWhatTheOutlinesShow) {
  Measurement measurement = bowl();
  Json json = json_of(measurement);
  EXPECT_EQ(json.at("advice"), Json::array());
  EXPECT_TRUE(json.at("out_of_round_percent").is_null());
  EXPECT_TRUE(json.at("uneven").is_null());
  Answer& answer = measurement.answer;
  answer.advice = {{.what = "Measure how high the riser is",
                    .size = SizeName::kMaxDiameter,
                    .sd_now = 3.0,
                    .sd_then = 1.0 / 3.0}};
  answer.out_of_round = OutOfRound{normal_measured(2.5, 0.5)};
  answer.uneven = Uneven{normal_measured(-1.25, 0.25), 2.0, 0.5, 60.0, true};
  json = json_of(measurement);
  ASSERT_EQ(json.at("advice").size(), 1U);
  EXPECT_THAT(keys_of(json.at("advice")[0]), ElementsAre("what", "size", "sd_now", "sd_then"));
  EXPECT_EQ(json.at("advice")[0].at("what"), "Measure how high the riser is");
  EXPECT_EQ(json.at("advice")[0].at("size"), "max_diameter");
  EXPECT_EQ(json.at("advice")[0].at("sd_now"), 3.0);
  EXPECT_EQ(json.at("advice")[0].at("sd_then").get<double>(), 1.0 / 3.0);
  EXPECT_EQ(json.at("out_of_round_percent").at("value"), 2.5);
  EXPECT_EQ(json.at("out_of_round_percent").at("sd"), 0.5);
  EXPECT_EQ(json.at("uneven").at("lean_deg").at("value"), -1.25);
  EXPECT_EQ(json.at("uneven").at("widest_mm"), 2.0);
  EXPECT_EQ(json.at("uneven").at("widest_sd_mm"), 0.5);
  EXPECT_EQ(json.at("uneven").at("at_height_mm"), 60.0);
  EXPECT_EQ(json.at("uneven").at("beyond_chance"), true);
  // Without a scale no length is called millimetres.
  answer.scale = ScaleSource::kNone;
  EXPECT_THAT(keys_of(json_of(measurement).at("uneven")),
              ElementsAre("lean_deg", "widest_percent", "widest_sd_percent", "at_height_percent",
                          "beyond_chance"));
}

TEST(ReportJson, ProblemsStandInTheirPlace) {
  const Problem problem{Code::kTooFewMarks, "The rim has too few marks.", "Mark more of it.", ""};
  const Json report = Json::parse(report_json({{"a.potshadow", problem}, {"b.potshadow", bowl()}}));
  ASSERT_EQ(report.at("projects").size(), 2U);
  EXPECT_EQ(report.at("projects")[0].at("file"), "a.potshadow");
  EXPECT_EQ(report.at("projects")[0].at("problem").at("what"), "The rim has too few marks.");
  EXPECT_EQ(report.at("projects")[0].at("problem").at("next"), "Mark more of it.");
  EXPECT_EQ(report.at("projects")[1].at("project"), "Low bowl");
  EXPECT_EQ(Json::parse(report_json({})).at("projects"), Json::array());
}

TEST(ReportJson, OddNamesAndNumbersStayJson) {
  Measurement measurement = bowl();
  measurement.project.name.clear();
  measurement.answer.photos.front().camera.focal_35mm_sd = std::numeric_limits<double>::infinity();
  // A file name need not be UTF-8.
  const Json project =
      Json::parse(report_json({{"case 3/low\xFF-bowl.potshadow", measurement}})).at("projects")[0];
  EXPECT_EQ(project.at("file"), "case 3/low\uFFFD-bowl.potshadow");
  EXPECT_EQ(project.at("project"), "low\uFFFD-bowl");
  EXPECT_TRUE(project.at("camera").at("focal_35mm_sd").is_null());
}

TEST(ReportCsv, HasALineForEachSize) {
  const Measurement measurement = bowl();
  const std::string text = report_csv({{"a.potshadow", measurement}});
  std::vector<std::string> lines;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = text.find("\r\n", at);
    ASSERT_NE(end, std::string::npos);
    lines.push_back(text.substr(at, end - at));
    at = end + 2;
  }
  ASSERT_EQ(lines.size(), 7U);  // heading and six sizes
  EXPECT_EQ(lines[0], "project,size,value,sd,low95,high95,unit,scale");
  EXPECT_THAT(lines[1], testing::StartsWith("Low bowl,height,80.33333333333333,"));
  EXPECT_THAT(lines[1], EndsWith(",mm,known"));
  EXPECT_THAT(lines[6], testing::StartsWith("Low bowl,capacity,1234.5678901234567,"));
  EXPECT_THAT(lines[6], EndsWith(",ml,known"));
  EXPECT_THAT(text, testing::Not(HasSubstr("neck")));
}

TEST(ReportCsv, QuotesAsTheStandardAsks) {
  // RFC 4180, section 2, rules 5 to 7.
  Measurement measurement = bowl();
  measurement.answer.sizes.resize(1);
  measurement.project.name = "Jar, \"upper\"\nshelf";
  const Problem problem{Code::kTooFewMarks, "Too few.", "Mark more.", ""};
  const std::string text = report_csv({{"b.potshadow", problem}, {"a.potshadow", measurement}});
  EXPECT_THAT(text, HasSubstr("unit,scale\r\n\"Jar, \"\"upper\"\"\nshelf\",height,80.3"));
}

}  // namespace
}  // namespace potshadow

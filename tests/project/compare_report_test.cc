// SPDX-License-Identifier: MIT
#include "project/compare_report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "project/json_text.h"
#include "project/low_bowl.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr double kRelativeSd = 0.005;

// The bowl `factor` times as large, all of it known to half a percent.
Measurement bowl(double factor, const std::string& name) {
  Measurement measurement = low_bowl();
  measurement.project.name = name;
  Answer& answer = measurement.answer;
  answer.profile = answer.profile.scaled(factor);
  answer.notes.clear();
  answer.rows.clear();
  constexpr std::size_t kRows = 61;
  Form form;
  for (std::size_t i = 0; i < kRows; ++i) {
    const ProfilePoint p = answer.profile.at(static_cast<double>(i) / (kRows - 1));
    answer.rows.push_back({p.height_mm, p.radius_mm, 0.1});
    form.rows.push_back(p);
  }
  constexpr double kLocalMm2 = 0.01;
  form.covariance = kLocalMm2 * Eigen::MatrixXd::Identity(kRows, kRows);
  answer.rows_covariance = enlarged(form, 1.0, kRelativeSd).covariance;
  const auto add = [&](SizeName size, double mm) {
    MeasuredSize measured;
    measured.name = size;
    measured.measured = normal_measured(factor * mm, kRelativeSd * factor * mm);
    measured.budget[static_cast<std::size_t>(DoubtSource::kReferenceSize)] = 1.0;
    answer.sizes.push_back(measured);
  };
  add(SizeName::kHeight, 80.0);
  add(SizeName::kMaxDiameter, 200.0);
  answer.proportions = {
      {"height_to_max_diameter", "Height to maximum diameter", normal_measured(0.4, 0.002)}};
  return measurement;
}

VesselComparison compared(const Measurement& original, const Measurement& replica,
                          Stage stage = Stage::kFired) {
  const auto found = compare_vessels({original, "a.potshadow"}, {replica, "b.potshadow"}, stage);
  EXPECT_TRUE(found.ok()) << found.problem().what;
  return *found;
}

void set_clay(Measurement& measurement) {
  ProjectClay clay;
  clay.name = "Buff mix";
  clay.shrinkage_percent = 12.5;
  clay.shrinkage_sd_percent = 0.1;
  measurement.project.clay = clay;
  add_clay(ClayBook(), measurement);
}

TEST(Compare, ALargerCopyIsSaidToBeLargerAndOfOneShape) {
  const VesselComparison c = compared(bowl(1.0, "Shelf bowl"), bowl(1.06, "My bowl"));
  ASSERT_TRUE(c.shape);
  constexpr double kExact = 1e-4;
  EXPECT_NEAR(c.shape->scale.value, 1.06, kExact);
  EXPECT_EQ(c.scale_verdict, Comparison::kLarger);
  EXPECT_EQ(c.sizes.at(0).difference.verdict, Comparison::kLarger);
  EXPECT_EQ(c.proportions.at(0).difference.verdict, Comparison::kSame);
  const std::string text = comparison_text(c, LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("My bowl is 6.0 % larger than Shelf bowl"));
  EXPECT_THAT(text, HasSubstr("no part of its outline is different"));
  EXPECT_THAT(comparison_text(c, LengthUnit::kInch), HasSubstr("3.339"));  // 1.06 * 80 mm
}

TEST(Compare, APotThatIsStillWetIsComparedFired) {
  // Wet at 8 for 7 fired: by common practice a pot that shrinks by an eighth is then right.
  Measurement wet = bowl(8.0 / 7.0, "My bowl");
  set_clay(wet);
  const VesselComparison c = compared(bowl(1.0, "Shelf bowl"), wet, Stage::kWet);
  ASSERT_TRUE(c.shape);
  constexpr double kExact = 1e-3;
  EXPECT_NEAR(c.shape->scale.value, 1.0, kExact);
  EXPECT_NEAR(c.sizes.at(0).difference.replica.value, 80.0, kExact * 80.0);
  EXPECT_NE(c.sizes.at(0).difference.verdict, Comparison::kLarger);
  EXPECT_THAT(comparison_text(c, LengthUnit::kMm), HasSubstr("was measured wet"));
  // Without a clay nothing says so.
  const auto unknown = compare_vessels({bowl(1.0, "a"), "a"}, {bowl(1.0, "b"), "b"}, Stage::kWet);
  ASSERT_FALSE(unknown.ok());
  EXPECT_THAT(unknown.problem().what, HasSubstr("how much its clay shrinks"));
}

TEST(Compare, TheSameCardBesideBothCancels) {
  Measurement a = bowl(1.0, "Shelf bowl");
  Measurement b = bowl(1.012, "My bowl");
  EXPECT_NE(compared(a, b).sizes.at(0).difference.verdict, Comparison::kLarger);
  for (Measurement* m : {&a, &b}) {
    ProjectReference card;
    card.kind = "rectangle";
    card.object = "card";
    m->project.photos[0].references = {card};
  }
  const VesselComparison c = compared(a, b);
  EXPECT_NEAR(c.shared_scale_sd, kRelativeSd, 1e-12);
  EXPECT_EQ(c.sizes.at(0).difference.verdict, Comparison::kLarger);
}

TEST(Compare, WithoutAScaleOnlyProportionsAreCompared) {
  Measurement open = bowl(1.0, "My bowl");
  open.answer.scale = ScaleSource::kNone;
  open.answer.rows_covariance.resize(0, 0);
  const VesselComparison c = compared(bowl(1.0, "Shelf bowl"), open);
  EXPECT_FALSE(c.shape);
  EXPECT_TRUE(c.sizes.empty());
  EXPECT_EQ(c.proportions.size(), 1U);
  EXPECT_THAT(comparison_text(c, LengthUnit::kMm), HasSubstr("only proportions are compared"));
}

TEST(Compare, OneProjectTwiceIsRefused) {
  const Measurement one = bowl(1.0, "Shelf bowl");
  const auto found = compare_vessels({one, "a.potshadow"}, {one, "a.potshadow"}, Stage::kFired);
  ASSERT_FALSE(found.ok());
  EXPECT_THAT(found.problem().what, HasSubstr("the same project"));
}

TEST(Compare, VesselsOfDifferentKindsAreComparedAndNamed) {
  Measurement tall = bowl(1.0, "Tall one");
  tall.answer.profile =
      Profile::from_controls({{40.0, 0.0}, {70.0, 100.0}, {60.0, 200.0}, {40.0, 300.0}}).value();
  EXPECT_THAT(comparison_text(compared(bowl(1.0, "Shelf bowl"), tall), LengthUnit::kMm),
              HasSubstr("vessels of different kinds"));
}

TEST(Compare, JsonAndCsvHoldEveryRow) {
  const VesselComparison c = compared(bowl(1.0, "Shelf bowl"), bowl(1.06, "My \"own\" bowl"));
  const auto json = nlohmann::json::parse(comparison_json(c)).at("comparison");
  EXPECT_EQ(json.at("replica"), "My \"own\" bowl");
  EXPECT_EQ(json.at("sizes_mm").at("height").at("verdict"), "larger");
  EXPECT_EQ(json.at("shape").at("scaled").size(), c.shape->scaled.size());
  const std::string csv = comparison_csv(c);
  EXPECT_EQ(static_cast<std::size_t>(std::count(csv.begin(), csv.end(), '\n')),
            1 + c.shape->as_made.size() + c.shape->scaled.size());
  EXPECT_THAT(csv, Not(HasSubstr("nan")));
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "project/compare_report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "project/answer_text.h"
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
  const auto found = compare_vessels(compared_vessel(original, "a.potshadow"),
                                     compared_vessel(replica, "b.potshadow", stage));
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
  const auto unknown = compare_vessels(compared_vessel(bowl(1.0, "a"), "a"),
                                       compared_vessel(bowl(1.0, "b"), "b", Stage::kWet));
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

// The size `factor` times the bowl's, all of its doubt moved by one camera, alike or the other way.
ComparedVessel by_one_camera(double factor, const std::string& name, double sign) {
  ComparedVessel vessel = compared_vessel(bowl(factor, name), name);
  SharedDoubt doubt;
  doubt.source = "camera";
  for (const MeasuredSize& size : vessel.sizes) {
    doubt.sizes.at(static_cast<std::size_t>(size.name)) = sign * size.measured.sd;
  }
  doubt.rows.resize(static_cast<Eigen::Index>(vessel.form.rows.size()));
  for (std::size_t i = 0; i < vessel.form.rows.size(); ++i) {
    const ProfilePoint& row = vessel.form.rows[i];
    doubt.rows(static_cast<Eigen::Index>(i)) =
        sign * kRelativeSd *
        normal_of(vessel.form.rows, i).dot(Eigen::Vector2d(row.radius_mm, row.height_mm));
  }
  vessel.shared.push_back(doubt);
  return vessel;
}

TEST(Compare, WhatOneCameraLeavesOpenCancels) {
  const auto sd_of = [](const ComparedVessel& a, const ComparedVessel& b, double& of_scale) {
    const auto found = compare_vessels(a, b);
    EXPECT_TRUE(found.ok());
    of_scale = found->shape->scale.sd;
    return found->sizes.at(0).difference.difference.sd;
  };
  const ComparedVessel one = by_one_camera(1.0, "a", 1.0);
  double alone = 0.0;
  double alike = 0.0;
  double against = 0.0;
  ComparedVessel other_camera = by_one_camera(1.012, "b", 1.0);
  other_camera.shared[0].source = "another camera";
  const double independent = sd_of(one, other_camera, alone);
  // Two sizes of 80 and 80.96 mm, each off by half a percent, alike: 0.0048 mm are left.
  constexpr double kExact = 1e-9;
  EXPECT_NEAR(sd_of(one, by_one_camera(1.012, "b", 1.0), alike), kRelativeSd * 0.96, kExact);
  EXPECT_NEAR(sd_of(one, by_one_camera(1.012, "b", -1.0), against), kRelativeSd * 160.96, kExact);
  EXPECT_NEAR(independent, kRelativeSd * std::hypot(80.0, 80.96), kExact);
  EXPECT_LT(alike, 0.2 * alone);  // what is left is each profile's own
  EXPECT_NEAR(against, std::sqrt(2.0) * alone, 0.05 * alone);
}

TEST(Compare, TwoWetPotsOfOneClayShareWhatItLeavesOpen) {
  constexpr double kUnsurePercent = 2.0;
  const auto wet = [&](double factor, const std::string& name) {
    Measurement pot = bowl(factor, name);
    set_clay(pot);
    pot.project.clay->shrinkage_sd_percent = kUnsurePercent;
    add_clay(ClayBook(), pot);
    return compared_vessel(pot, name, Stage::kWet);
  };
  const auto found = compare_vessels(wet(1.0, "a"), wet(1.1, "b"));
  ASSERT_TRUE(found.ok());
  EXPECT_EQ(found->original_stage, Stage::kWet);
  EXPECT_EQ(found->sizes.at(0).difference.verdict, Comparison::kLarger);
  // Against a fired original the same doubt counts.
  const auto fired = compare_vessels(compared_vessel(bowl(0.875, "a"), "a"), wet(1.1, "b"));
  ASSERT_TRUE(fired.ok());
  EXPECT_GT(fired->sizes.at(0).difference.difference.sd,
            2.0 * found->sizes.at(0).difference.difference.sd);
}

TEST(Compare, AReplicaWithoutAClayTakesTheOriginals) {
  Measurement original = bowl(1.0, "Shelf bowl");
  set_clay(original);
  const VesselComparison c = compared(original, bowl(8.0 / 7.0, "My bowl"), Stage::kWet);
  constexpr double kExact = 1e-3;
  EXPECT_NEAR(c.sizes.at(0).difference.replica.value, 80.0, kExact * 80.0);
  EXPECT_THAT(comparison_text(c, LengthUnit::kMm), HasSubstr("the original's project plans with"));
}

// Wet at 8 for 7 fired, an eighth of shrinkage: wet the original would be as large as the pot is.
TEST(Compare, BothAtTheStageThatTheReplicaIsAt) {
  Measurement wet = bowl(8.0 / 7.0, "My bowl");
  set_clay(wet);
  const auto found = compare_vessels(compared_vessel(bowl(1.0, "Shelf bowl"), "a"),
                                     compared_vessel(wet, "b", Stage::kWet), Stage::kWet);
  ASSERT_TRUE(found.ok()) << found.problem().what;
  constexpr double kExact = 1e-3;
  const SizeDifference& height = found->sizes.at(0).difference;
  EXPECT_NEAR(height.original.value, 80.0 * 8.0 / 7.0, kExact * 80.0);
  EXPECT_NEAR(height.replica.value, 80.0 * 8.0 / 7.0, kExact * 80.0);
  EXPECT_NEAR(found->shape->scale.value, 1.0, kExact);
  // The clay's doubt is the original's there: 0.1 of 87.5 % beside the photograph's own.
  EXPECT_NEAR(height.original.sd / height.original.value, std::hypot(kRelativeSd, 0.1 / 87.5),
              1e-6);
  EXPECT_NEAR(height.replica.sd / height.replica.value, kRelativeSd, 1e-9);
  EXPECT_NEAR(found->original_factor, 8.0 / 7.0, kExact);
  EXPECT_EQ(found->replica_factor, 1.0);
  const std::string text = comparison_text(*found, LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("Sizes, wet"));
  EXPECT_THAT(text, HasSubstr("Shelf bowl was measured fired; when it was wet"));
  EXPECT_THAT(text, HasSubstr("My bowl was measured wet, of Buff mix."));
  // From wet to leather-hard and on to fired is the way from wet to fired.
  const ComparedVessel pot = compared_vessel(wet, "b", Stage::kWet);
  const double onward = factor_to(at_stage(pot, Stage::kLeatherHard), Stage::kFired);
  EXPECT_NEAR(factor_to(pot, Stage::kLeatherHard) * onward, factor_to(pot, Stage::kFired), 1e-9);
}

TEST(Compare, EverySizeIsToldOfOnce) {
  const VesselComparison c = compared(bowl(1.0, "Shelf bowl"), bowl(1.06, "My bowl"));
  const std::string words = comparison_paragraph(c, LengthUnit::kMm);
  for (const ComparedSize& size : c.sizes) {
    const std::string name = size_in_sentence(size.name);
    std::size_t told = 0;
    for (std::size_t at = words.find(name); at != std::string::npos;
         at = words.find(name, at + 1)) {
      ++told;
    }
    EXPECT_GE(told, 1U) << name;
  }
}

TEST(Compare, FourTimesAsLargeIsAskedAbout) {
  EXPECT_THAT(comparison_text(compared(bowl(1.0, "a"), bowl(10.0, "b")), LengthUnit::kMm),
              HasSubstr("10.0 times as large"));
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
  const auto found =
      compare_vessels(compared_vessel(one, "a.potshadow"), compared_vessel(one, "a.potshadow"));
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

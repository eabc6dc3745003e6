// SPDX-License-Identifier: MIT
#include "project/sheet_request.h"

#include <gtest/gtest.h>

#include <chrono>
#include <filesystem>

#include "project/low_bowl.h"

namespace potshadow {
namespace {

// 5 July 2026, 9:08:07 UTC: 1783242487 seconds after the start of 1970 (POSIX.1-2017, 4.16,
// "Seconds Since the Epoch").
const auto kMorning = std::chrono::system_clock::time_point(std::chrono::seconds(1783242487));

TotalShrinkage twelve() { return TotalShrinkage::from_percent_of_wet(12.0, 0.5).value(); }

Measurement bowl() {
  Measurement measurement = low_bowl();
  measurement.answer.sizes.push_back(
      {SizeName::kHeight, normal_measured(80.0, 0.5), 0.25, std::array<double, kDoubtCount>{}});
  measurement.answer.sizes.push_back({SizeName::kCapacity, normal_measured(1200.0, 30.0), 20.0,
                                      std::array<double, kDoubtCount>{}});
  return measurement;
}

TEST(SheetRequest, HoldsWhatWasMeasured) {
  Measurement measurement = bowl();
  measurement.project.clay = ProjectClay{};
  measurement.project.clay->record = "buff-mix";
  measurement.project.clay->name = "Buff mix";
  const TemplateRequest request =
      template_request(measurement, "case 3/bowl.potshadow", twelve(),
                       {.paper = Paper::kLetter, .unit = LengthUnit::kInch}, kMorning);
  EXPECT_EQ(request.vessel_name, "Low bowl");
  EXPECT_EQ(request.fired_profile, measurement.answer.profile);
  ASSERT_EQ(request.band.size(), 2U);
  EXPECT_EQ(request.band[1], (ProfileBandRow{80.0, 100.0, 1.0 / 3.0}));
  ASSERT_EQ(request.sizes.size(), 2U);
  EXPECT_EQ(request.sizes[0].words, "Height");
  EXPECT_EQ(request.sizes[0].fired.value, 80.0);
  EXPECT_FALSE(request.sizes[0].is_volume);
  EXPECT_EQ(request.sizes[1].words, "Capacity to the brim");
  EXPECT_TRUE(request.sizes[1].is_volume);
  EXPECT_EQ(request.clay_name, "Buff mix");
  EXPECT_EQ(request.shrinkage, twelve());
  EXPECT_EQ(request.paper, Paper::kLetter);
  EXPECT_EQ(request.unit, LengthUnit::kInch);
  EXPECT_EQ(request.date_line, "5 July 2026");
  EXPECT_EQ(request.created_iso, "2026-07-05T09:08:07Z");
}

TEST(SheetRequest, SaysWhereTheScaleIsFrom) {
  Measurement measurement = bowl();
  TemplateRequest request = template_request(measurement, "bowl", twelve(), {}, kMorning);
  EXPECT_TRUE(request.has_scale);
  EXPECT_EQ(request.guessed_scale, "");
  measurement.answer.scale = ScaleSource::kGuess;
  ProjectReference guess;
  guess.kind = "size";
  guess.size = "max_diameter";
  guess.value_mm = 254.0;
  guess.sd_mm = 12.7;
  guess.guess = true;
  measurement.project.photos[0].references = {guess};
  request = template_request(measurement, "bowl", twelve(), {.unit = LengthUnit::kInch}, kMorning);
  EXPECT_TRUE(request.has_scale);
  // 254 mm are 10 in; 12.7 mm are half an inch, and 1.96 of them 0.98.
  EXPECT_EQ(request.guessed_scale, "Scale guessed: maximum diameter 10.00 ± 0.98 in.");
  measurement.answer.scale = ScaleSource::kNone;
  request = template_request(measurement, "bowl", twelve(), {}, kMorning);
  EXPECT_FALSE(request.has_scale);
  EXPECT_FALSE(template_sheet(request).ok());
}

TEST(SheetRequest, NamesFallBackOnFileAndRecord) {
  Measurement measurement = bowl();
  measurement.project.name.clear();
  TemplateRequest request =
      template_request(measurement, "case 3/bowl.potshadow", twelve(), {}, kMorning);
  EXPECT_EQ(request.vessel_name, "bowl");
  EXPECT_EQ(request.clay_name, "");
  EXPECT_EQ(request.paper, Paper::kA4);
  EXPECT_EQ(request.unit, LengthUnit::kMm);
  measurement.project.clay = ProjectClay{};
  measurement.project.clay->record = "buff-mix";
  request = template_request(measurement, "case 3/bowl.potshadow", twelve(), {}, kMorning);
  EXPECT_EQ(request.clay_name, "buff-mix");
}

TEST(SheetRequest, NamesTheDayTheProjectWasSaved) {
  const Measurement measurement = bowl();
  SheetChoices choices;
  choices.saved = kMorning - std::chrono::hours(24 * 40);
  EXPECT_EQ(template_request(measurement, "bowl", twelve(), choices, kMorning).date_line,
            "saved 26 May 2026");
}

TEST(SheetRequest, ReadsWhenAProjectWasSaved) {
  const std::filesystem::path file =
      std::filesystem::path(POTSHADOW_SOURCE_DIR) / "samples" / "shelf-jar.potshadow";
  const auto saved = saved_at(file);
  ASSERT_TRUE(saved);
  EXPECT_LE(*saved, std::chrono::system_clock::now());
  EXPECT_GT(*saved, std::chrono::system_clock::time_point{});
  EXPECT_FALSE(saved_at(file.string() + ".none"));
}

}  // namespace
}  // namespace potshadow

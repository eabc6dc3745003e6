// SPDX-License-Identifier: MIT
#include "project/answer_text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>
#include <string>

#include "project/low_bowl.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

Measurement bowl() {
  Measurement measurement = low_bowl();
  const auto add = [&](SizeName name, double value, double half_width) {
    MeasuredSize size{name, normal_measured(value, half_width / kNormal95), 0.0, {}};
    size.budget[static_cast<std::size_t>(DoubtSource::kReferencePlace)] = 0.62;
    size.budget[static_cast<std::size_t>(DoubtSource::kMarks)] = 0.31;
    size.budget[static_cast<std::size_t>(DoubtSource::kLens)] = 0.07;
    measurement.answer.sizes.push_back(size);
  };
  add(SizeName::kHeight, 80.04, 1.2);
  add(SizeName::kMaxDiameter, 200.0, 2.54);
  add(SizeName::kCapacity, 1234.6, 61.0);
  measurement.answer.proportions.push_back({"height_to_max_diameter", "Height to maximum diameter",
                                            normal_measured(0.4, 0.002 / kNormal95)});
  return measurement;
}

std::string line_with(const std::string& text, const std::string& start) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.find(start) == 2) return line;
  }
  return "no line starts with " + start;
}

TEST(AnswerText, ShowsEachSizeWithItsInterval) {
  const std::string text = answer_text(bowl(), "low-bowl.potshadow", LengthUnit::kMm);
  EXPECT_THAT(text, StartsWith("Low bowl\nlow-bowl.potshadow, photograph bowl.jpg\n"));
  const std::string height = line_with(text, "Height ");
  EXPECT_THAT(height, HasSubstr("80.0 ± 1.2"));
  EXPECT_THAT(height, HasSubstr("mm   78.8 to 81.2"));
  EXPECT_THAT(line_with(text, "Maximum diameter"), HasSubstr("200.0 ± 2.5"));
  // Two significant figures of the ±, and the value to the same place (JCGM 100:2008, 7.2.6).
  EXPECT_THAT(line_with(text, "Capacity"), HasSubstr("1235 ± 61"));
  EXPECT_THAT(text, HasSubstr("95 %"));
  EXPECT_THAT(text, Not(HasSubstr("wet")));
  EXPECT_THAT(text, Not(HasSubstr("1/16")));
}

TEST(AnswerText, LargeVolumesAreRoundedToTheirDoubt) {
  Measurement measurement = bowl();
  measurement.answer.sizes[2].measured = normal_measured(5888.2, 386.9 / kNormal95);
  const std::string text = answer_text(measurement, "a", LengthUnit::kMm);
  EXPECT_THAT(line_with(text, "Capacity"), HasSubstr("5890 ± 390"));
  EXPECT_THAT(line_with(text, "Capacity"), HasSubstr("5500 to 6280"));
}

TEST(AnswerText, InchesComeAsDecimalsAndSixteenths) {
  const std::string text = answer_text(bowl(), "a.potshadow", LengthUnit::kInch);
  const std::string widest = line_with(text, "Maximum diameter");
  EXPECT_THAT(widest, HasSubstr("7.87 ± 0.10"));  // 200 mm / 25.4
  EXPECT_THAT(widest, HasSubstr("7 7/8"));
  EXPECT_THAT(line_with(text, "Capacity"), HasSubstr("ml"));
  EXPECT_THAT(text, HasSubstr("32.0 in away"));
}

TEST(AnswerText, CentimetresMoveThePoint) {
  const std::string text = answer_text(bowl(), "a.potshadow", LengthUnit::kCm);
  EXPECT_THAT(line_with(text, "Maximum diameter"), HasSubstr("20.00 ± 0.25   cm"));
}

TEST(AnswerText, WetSizesStandBesideTheFired) {
  Measurement measurement = bowl();
  measurement.shrinkage = TotalShrinkage::from_percent_of_wet(12.5, 0.0).value();
  const std::string text = answer_text(measurement, "a.potshadow", LengthUnit::kMm);
  EXPECT_THAT(line_with(text, "Maximum diameter"), HasSubstr("228.6 ± 2.9"));  // times 8/7
  EXPECT_THAT(text, HasSubstr("shrinks by 12.5 ± 0.0 % of its wet length"));
}

TEST(AnswerText, SaysInWordsWhatLimitsAndHowItFits) {
  const std::string text = answer_text(bowl(), "a.potshadow", LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("the reference's place 62 %, the marks 31 %\n"));
  EXPECT_THAT(text, HasSubstr("a bowl with an open mouth"));
  EXPECT_THAT(line_with(text, "Height to maximum"), HasSubstr("0.400 ± 0.002"));
  EXPECT_THAT(text, HasSubstr("The 120 marks lie 0.8 pixels"));
  EXPECT_THAT(text, HasSubstr("which is good"));
  EXPECT_THAT(text, HasSubstr("Farthest off: rim 7 (2.5 px), left 3 (1.5 px)."));
  EXPECT_THAT(text, HasSubstr("813 mm away, 17° above the level"));
  EXPECT_THAT(text, HasSubstr("\n- A plain note.\n! A \"doubtful\" note.\n"));
}

TEST(AnswerText, SaysInOneLineWhatTheCheckOfTheIntervalsFound) {
  Measurement measurement = bowl();
  EXPECT_THAT(answer_text(measurement, "b.potshadow", LengthUnit::kMm), Not(HasSubstr("redraw")));
  const Measured height = measurement.answer.sizes[0].measured;
  RedrawnSize size{SizeName::kHeight, height,        height.value, height.sd,
                   height.low95,      height.high95, 0.0,          1000};
  measurement.monte_carlo = MonteCarlo{1000, 3, 7, {size}};
  EXPECT_THAT(
      answer_text(measurement, "b.potshadow", LengthUnit::kMm),
      HasSubstr("\n  Checked by redrawing 1000 times (3 failed, seed 7): the intervals agree "
                "within a fifth.\n"));
  measurement.monte_carlo->sizes[0].high95 += 1.0;
  EXPECT_THAT(
      answer_text(measurement, "b.potshadow", LengthUnit::kMm),
      HasSubstr("\n! Checked by redrawing 1000 times (3 failed, seed 7): the redrawn interval "
                "is used for Height.\n"));
}

// A guessed height, as it stands in the project.
ProjectReference guessed_height() {
  ProjectReference guess;
  guess.kind = "size";
  guess.size = "height";
  guess.value_mm = 80.0;
  guess.sd_mm = 10.0;
  guess.guess = true;
  return guess;
}

TEST(AnswerText, AGuessedScaleIsSaidBesideEverySize) {
  Measurement measurement = bowl();
  EXPECT_EQ(guessed_scale_words(measurement, LengthUnit::kMm), "");
  EXPECT_THAT(answer_text(measurement, "a", LengthUnit::kMm), Not(HasSubstr("guess")));
  measurement.answer.scale = ScaleSource::kGuess;
  EXPECT_EQ(guessed_scale_words(measurement, LengthUnit::kMm), "Scale guessed.");
  measurement.project.photos[0].references = {guessed_height()};
  // 80 mm with a standard uncertainty of 10 mm: 95 % within 1.96 times that.
  EXPECT_EQ(guessed_scale_words(measurement, LengthUnit::kMm), "Scale guessed: height 80 ± 20 mm.");
  EXPECT_EQ(guessed_scale_words(measurement, LengthUnit::kCm),
            "Scale guessed: height 8.0 ± 2.0 cm.");
  const std::string text = answer_text(measurement, "a", LengthUnit::kMm);
  std::size_t ran = 0;
  for (const char* size : {"Height ", "Maximum diameter", "Capacity"}) {
    EXPECT_THAT(line_with(text, size), testing::EndsWith("   guess")) << size;
    ++ran;
  }
  EXPECT_EQ(ran, 3U);
  EXPECT_THAT(text, HasSubstr("\n! Scale guessed: height 80 ± 20 mm. All sizes hang on it"));
  EXPECT_THAT(text, Not(HasSubstr("The truth lies within")));
}

TEST(AnswerText, WithoutAScaleItSaysSoAndWhatToDo) {
  Measurement measurement = bowl();
  measurement.shrinkage = TotalShrinkage::from_percent_of_wet(12.5, 0.0).value();
  measurement.answer.scale = ScaleSource::kNone;
  measurement.answer.sizes.clear();
  const std::string text = answer_text(measurement, "a", LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("\n! Nothing of known size was given, so how big the vessel is"));
  EXPECT_THAT(text, HasSubstr("\n  Mark something whose size you know"));
  EXPECT_THAT(line_with(text, "Height to maximum"), HasSubstr("0.400 ± 0.002"));
  EXPECT_THAT(text, Not(HasSubstr("wet")));
  EXPECT_THAT(text, Not(HasSubstr("limits")));
  EXPECT_THAT(text, Not(HasSubstr("mm away")));
  EXPECT_THAT(text, HasSubstr("was taken from 17° above the level"));
}

TEST(AnswerText, SeveralPhotographsAreNamed) {
  Measurement measurement = bowl();
  measurement.project.photos.resize(3);
  measurement.project.photos[2].file = "left.jpg";
  measurement.photo_indices = {0, 2};
  measurement.answer.photos.push_back({.camera = {27.5, 0.5, 640.0, -3.0, 0.25}, .overlay = {}});
  const std::string text = answer_text(measurement, "a", LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("\na, photographs bowl.jpg, left.jpg\n"));
  EXPECT_THAT(text, HasSubstr("\n  Photo 1 was taken from 813 mm away, 17° above the level"));
  EXPECT_THAT(text, HasSubstr("\n  Photo 3 was taken from 640 mm away, 3° below the level"));
}

TEST(AnswerText, GivesTheAdviceThatHelpsMost) {
  Measurement measurement = bowl();
  EXPECT_THAT(answer_text(measurement, "a", LengthUnit::kMm), Not(HasSubstr("To narrow")));
  Advice riser{.what = "Measure how high the riser is, to a millimetre",
               .size = SizeName::kHeight,
               .sd_now = 1.0,
               .sd_then = 0.8 / kNormal95};
  Advice wall = riser;
  wall.what = "Measure the wall";
  wall.size = SizeName::kCapacity;
  wall.sd_then = 42.0 / kNormal95;
  measurement.answer.advice = {riser, wall};
  std::string text = answer_text(measurement, "a", LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("\n  To narrow the height most: measure how high the riser is, to a "
                              "millimetre. It would then be"));
  EXPECT_THAT(text, HasSubstr("known to ± 0.8 mm.\n"));
  EXPECT_THAT(text, Not(HasSubstr("wall.")));  // one thing at a time
  measurement.answer.advice = {wall};
  text = answer_text(measurement, "a", LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("To narrow the capacity to the brim most: measure the wall. It would "
                              "then be known to ± 42 ml"));
}

TEST(AnswerText, SaysHowRoundAndUprightTheVesselIs) {
  Measurement measurement = bowl();
  Answer& answer = measurement.answer;
  answer.out_of_round = OutOfRound{normal_measured(2.5, 0.8 / kNormal95)};
  answer.uneven = Uneven{normal_measured(-1.3, 0.4 / kNormal95), 2.0, 0.5 / kNormal95, 60.0, false};
  const auto text = [&](LengthUnit unit) { return answer_text(measurement, "a", unit); };
  EXPECT_THAT(text(LengthUnit::kMm), HasSubstr("\n  Out of round: its widest diameter is 2.5 ± 0.8 "
                                               "% larger than its narrowest.\n"));
  EXPECT_THAT(text(LengthUnit::kMm), Not(HasSubstr("leans")));  // no more than chance
  answer.uneven->beyond_chance = true;
  EXPECT_THAT(text(LengthUnit::kMm),
              HasSubstr("\n! The vessel leans by 1.3 ± 0.4° to the left, and beyond that its left "
                        "side stands out by up to\n  2.0 ± 0.5 mm, at a height of 60 mm.\n"));
  answer.uneven->lean_deg = normal_measured(0.1, 0.4);
  answer.uneven->widest_mm = -2.0;
  EXPECT_THAT(text(LengthUnit::kCm),
              HasSubstr("\n! The vessel is uneven: its right side stands out by up to 0.20 ± 0.05 "
                        "cm, at a height of 6.0\n  cm.\n"));
  answer.uneven->lean_deg = normal_measured(1.2, 0.4 / kNormal95);
  answer.uneven->widest_mm = 0.1;
  EXPECT_THAT(text(LengthUnit::kMm),
              HasSubstr("\n! The vessel leans by 1.2 ± 0.4° to the right.\n"));
  answer.scale = ScaleSource::kNone;
  answer.sizes.clear();
  answer.uneven->widest_mm = 3.0;
  EXPECT_THAT(text(LengthUnit::kMm),
              HasSubstr("3.0 ± 0.5 % of the vessel's height, at 60 % of it"));
}

TEST(AnswerText, WildMarksAreNamed) {
  Measurement measurement = bowl();
  measurement.answer.fit.worst[0].off_sd = 9.0;
  measurement.answer.fit.scatter_ratio = 2.5;
  const std::string text = answer_text(measurement, "a.potshadow", LengthUnit::kMm);
  EXPECT_THAT(text, HasSubstr("far more than you\n  stated for them.\n"));
  EXPECT_THAT(text, HasSubstr("\n! Look again at: rim 7 (2.5 px).\n"));
  EXPECT_THAT(text, Not(HasSubstr("left 3")));
}

TEST(AnswerText, NamesCannotSteerTheTerminal) {
  Measurement measurement = bowl();
  measurement.project.name = "Jar\x1B[31m\n\u009B2J";
  const std::string text = answer_text(measurement, "a\x07.potshadow", LengthUnit::kMm);
  EXPECT_THAT(text, StartsWith("Jar?[31m??2J\na?.potshadow"));
}

TEST(AnswerText, LongNotesAreBroken) {
  Measurement measurement = bowl();
  std::string words;
  for (int i = 0; i < 60; ++i) words += "word" + std::to_string(i) + " ";
  measurement.answer.notes = {{words, true}};
  std::istringstream lines(answer_text(measurement, "a.potshadow", LengthUnit::kInch));
  std::size_t ran = 0;
  constexpr std::size_t kColumns = 100;
  for (std::string line; std::getline(lines, line); ++ran) {
    EXPECT_LE(display_width(line), kColumns) << line;
  }
  EXPECT_GT(ran, 20U);
}

}  // namespace
}  // namespace potshadow

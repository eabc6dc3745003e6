// SPDX-License-Identifier: MIT
#include "desktop/words/figures_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "desktop/words/sample.h"
#include "project/answer_text.h"
#include "project/report.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

FigureRow row_of(const std::vector<FigureRow>& rows, SizeName name) {
  const auto found = std::find_if(rows.begin(), rows.end(),
                                  [&](const FigureRow& row) { return row.name == name; });
  EXPECT_NE(found, rows.end());
  return found == rows.end() ? FigureRow{} : *found;
}

// A measurement with one size of our own making: 100 ± `half_width`, all its doubt from `source`.
Measurement one_size(SizeName name, double half_width, DoubtSource source) {
  Measurement measurement = made_up_measurement();
  measurement.answer.sizes.clear();
  MeasuredSize size;
  size.name = name;
  size.measured = normal_measured(100.0, half_width / kNormal95);
  size.budget[static_cast<std::size_t>(source)] = 1.0;
  measurement.answer.sizes.push_back(size);
  return measurement;
}

// The made-up figures, and what a clay makes of them that shrinks by 12 ± 1 %: 235.1 / 0.88 is
// 267.16; its ± is the root of the squares of 2.8 / 0.88 and 267.16 × 1 / 88. 5420 / 0.88³ is 7953.
TEST(FigureRows, GiveSizesInMillimetres) {
  const std::vector<FigureRow> rows = figure_rows(made_up_measurement(), LengthUnit::kMm);
  ASSERT_EQ(rows.size(), kSizeCount);
  const FigureRow height = row_of(rows, SizeName::kHeight);
  EXPECT_EQ(height.label, "Height");
  EXPECT_EQ(height.value, "235.1");
  EXPECT_EQ(height.plus_minus, "2.8");
  EXPECT_EQ(height.unit, "mm");
  EXPECT_EQ(height.interval, "232.3 to 237.9");
  EXPECT_EQ(height.sixteenths, "");
  EXPECT_EQ(height.wet_value, "267.2");
  EXPECT_EQ(height.wet_plus_minus, "4.4");
  EXPECT_TRUE(height.leading);
  EXPECT_FALSE(height.doubtful);
  const FigureRow capacity = row_of(rows, SizeName::kCapacity);
  EXPECT_EQ(capacity.value, "5420");
  EXPECT_EQ(capacity.plus_minus, "430");
  EXPECT_EQ(capacity.unit, "ml");
  EXPECT_EQ(capacity.wet_value, "7950");
  EXPECT_FALSE(capacity.leading);
}

TEST(FigureRows, GiveInchesWithFractions) {
  const std::vector<FigureRow> rows = figure_rows(made_up_measurement(), LengthUnit::kInch);
  // 235.1 mm is 9.256 in, nearest 9 4/16; wet 267.2 mm is 10.518 in, nearest 10 8/16.
  const FigureRow height = row_of(rows, SizeName::kHeight);
  EXPECT_EQ(height.value, "9.26");
  EXPECT_EQ(height.unit, "in");
  EXPECT_EQ(height.sixteenths, "9¼");
  EXPECT_EQ(height.wet_sixteenths, "10½");
  const FigureRow capacity = row_of(rows, SizeName::kCapacity);
  EXPECT_EQ(capacity.unit, "ml");
  EXPECT_EQ(capacity.sixteenths, "");
}

TEST(FigureRows, LeaveWetOutWithoutShrinkage) {
  Measurement measurement = sample_measurement();
  measurement.shrinkage.reset();
  int rows = 0;
  for (const FigureRow& row : figure_rows(measurement, LengthUnit::kInch)) {
    EXPECT_EQ(row.wet_value + row.wet_plus_minus + row.wet_sixteenths, "");
    ++rows;
  }
  EXPECT_EQ(rows, 8);
}

TEST(FigureRows, CallAWideIntervalDoubtful) {
  const auto row = [](SizeName name, double half_width) {
    return figure_rows(one_size(name, half_width, DoubtSource::kFocalLength), LengthUnit::kMm)
        .at(0);
  };
  EXPECT_FALSE(row(SizeName::kHeight, 4.9).doubtful);
  EXPECT_TRUE(row(SizeName::kHeight, 5.1).doubtful);
  EXPECT_EQ(row(SizeName::kHeight, 8.0).doubt,
            "Known only to ± 8 %, and what limits it most is the focal length.");
  // A volume goes with the cube of a length.
  EXPECT_FALSE(row(SizeName::kCapacity, 14.9).doubtful);
  EXPECT_TRUE(row(SizeName::kCapacity, 15.1).doubtful);
}

TEST(FigureRows, TeachEverySize) {
  std::vector<std::string> lessons;
  for (const FigureRow& row : figure_rows(sample_measurement(), LengthUnit::kMm)) {
    EXPECT_EQ(row.tooltip, size_lesson(row.name));
    lessons.push_back(row.tooltip);
  }
  ASSERT_EQ(lessons.size(), kSizeCount);
  std::sort(lessons.begin(), lessons.end());
  EXPECT_EQ(std::unique(lessons.begin(), lessons.end()), lessons.end());
  EXPECT_THAT(std::string(size_lesson(SizeName::kHeight)), StartsWith("From the shelf to the top"));
}

TEST(InchFraction, IsAsOnARuler) {
  const auto sixteenths = [](int count) { return inch_fraction_text(Mm{count * kMmPerInch / 16}); };
  EXPECT_EQ(sixteenths(0), "0");
  EXPECT_EQ(sixteenths(1), "1/16");
  EXPECT_EQ(sixteenths(2), "⅛");
  EXPECT_EQ(sixteenths(4), "¼");
  EXPECT_EQ(sixteenths(6), "⅜");
  EXPECT_EQ(sixteenths(8), "½");
  EXPECT_EQ(sixteenths(10), "⅝");
  EXPECT_EQ(sixteenths(12), "¾");
  EXPECT_EQ(sixteenths(14), "⅞");
  EXPECT_EQ(sixteenths(15), "15/16");
  EXPECT_EQ(sixteenths(16), "1");
  EXPECT_EQ(sixteenths(16 * 11 + 2), "11⅛");
  EXPECT_EQ(sixteenths(16 * 7 + 3), "7 3/16");
  EXPECT_EQ(sixteenths(-24), "-1½");
}

TEST(ProportionRows, SayThemInWords) {
  const std::vector<ProportionRow> rows = proportion_rows(made_up_measurement().answer);
  ASSERT_EQ(rows.size(), 5U);
  EXPECT_EQ(rows[0].words, "Height to maximum diameter");
  EXPECT_EQ(rows[0].value, "0.988");
  EXPECT_EQ(rows[0].plus_minus, "0.023");
  EXPECT_EQ(rows[0].meaning, "The vessel is about as high as it is wide.");
  EXPECT_EQ(rows[1].meaning, "It is widest a little over two fifths of the way up.");
  EXPECT_EQ(rows[2].meaning, "The neck is about half as wide as the vessel at its widest.");
  EXPECT_EQ(rows[3].meaning, "The rim is about two thirds as wide as the vessel at its widest.");
  EXPECT_EQ(rows[4].meaning,
            "The foot is a little over two fifths as wide as the vessel at its widest.");
}

TEST(ProportionRows, UseNumbersWhereNoFractionFits) {
  Answer answer = sample_measurement().answer;
  answer.proportions = {
      {"height_to_max_diameter", "Height to maximum diameter", normal_measured(1.6, 0.01)},
      {"height_of_max_to_height", "Height of the maximum to height", normal_measured(0.93, 0.01)},
      {"rim_to_max_diameter", "Rim to maximum diameter", normal_measured(1.0, 0.01)},
      {"base_to_max_diameter", "Base to maximum diameter", normal_measured(0.47, 0.01)}};
  const std::vector<ProportionRow> rows = proportion_rows(answer);
  ASSERT_EQ(rows.size(), 4U);
  EXPECT_EQ(rows[0].meaning, "The vessel is 1.60 times as high as it is wide.");
  EXPECT_EQ(rows[1].meaning, "It is widest 93 % of the way up.");
  EXPECT_EQ(rows[2].meaning, "The rim is about as wide as the vessel at its widest.");
  EXPECT_EQ(rows[3].meaning, "The foot is just under half as wide as the vessel at its widest.");
}

TEST(ShapeSentence, NamesTheSample) {
  EXPECT_EQ(shape_words(sample_measurement().answer.profile),
            "By its proportions the vessel is a jar with a drawn-in mouth.");
}

TEST(LimitRows, NameCausesAndWhatWouldHelp) {
  const std::vector<LimitRow> rows = limit_rows(made_up_measurement().answer);
  ASSERT_EQ(rows.size(), kSizeCount);
  EXPECT_EQ(rows[0].label, "Height");
  EXPECT_EQ(rows[0].causes,
            "the reference's place 43 %, the marks 36 %, the reference's size 15 %");
  EXPECT_EQ(rows[0].advice,
            "Find out more about where the reference stands, or mark a second one in another "
            "place.");
  EXPECT_EQ(rows[1].advice,
            "No photograph takes this away, for it is the pot's own. Change the out-of-round "
            "figure only if you know how round the vessel is.");
  EXPECT_EQ(rows[6].causes, "the marks 92 %");
}

TEST(AdviceWords, TakeTheLeastSureOfTheMainSizes) {
  EXPECT_EQ(advice_words(made_up_measurement().answer),
            "Of the main sizes the base diameter is the least sure, to ± 9 %. What limits it most: "
            "the marks, with 92 % of its doubt. What would help: add marks along the front of the "
            "foot, as far round to both sides as you see it.");
  EXPECT_EQ(advice_words(one_size(SizeName::kRimDiameter, 2.0, DoubtSource::kOutOfRound).answer),
            "Of the main sizes the rim diameter is the least sure, to ± 2 %. What limits it most: "
            "the vessel's out-of-round, with 100 % of its doubt. No photograph takes this away, "
            "for it is the pot's own. Change the out-of-round figure only if you know how round "
            "the vessel is.");
  Answer without = made_up_measurement().answer;
  without.sizes.clear();
  EXPECT_EQ(advice_words(without), "");
}

TEST(AdviceFor, DiffersByWhereTheMarksAreMissing) {
  EXPECT_EQ(advice_for(SizeName::kRimDiameter, DoubtSource::kMarks),
            "Add marks all round the outer edge of the lip.");
  EXPECT_EQ(advice_for(SizeName::kNeckDiameter, DoubtSource::kMarks),
            "Add marks on both sides of the neck, close together where it is narrowest.");
  EXPECT_EQ(advice_for(SizeName::kHeight, DoubtSource::kGlass),
            "Find out how thick the pane is, and say how sure you are of it.");
}

TEST(StaleWords, SayWhy) {
  EXPECT_EQ(stale_words(nullptr),
            "These figures are from before the last change: new ones are being worked out.");
  const Problem problem{Code::kBadMarks, "The marks on the rim lie all on one spot.",
                        "Spread them all round the outer edge of the lip.", ""};
  EXPECT_EQ(stale_words(&problem),
            "These figures are from before the last change: the marks on the rim lie all on one "
            "spot. Spread them all round the outer edge of the lip.");
}

TEST(CameraSentence, SaysHowThePictureWasTaken) {
  CameraAnswer camera;
  camera.focal_35mm = 52.04;
  camera.distance_mm = 914.4;
  camera.elevation_deg = 16.2;
  EXPECT_EQ(camera_sentence(camera, LengthUnit::kMm),
            "The photograph was taken from 914 mm away, 16° above the level, with a lens like 52.0 "
            "mm on 35 mm film.");
  camera.elevation_deg = -3.0;
  EXPECT_THAT(camera_sentence(camera, LengthUnit::kInch),
              HasSubstr("36.0 in away, 3° below the level"));
}

TEST(CopiedFigures, AreThoseOfTheCommandLine) {
  const Measurement measurement = sample_measurement();
  const std::string file = "shelf-jar.potshadow";
  EXPECT_EQ(figures_text(measurement, file, LengthUnit::kCm),
            answer_text(measurement, file, LengthUnit::kCm));
  const std::string csv = figures_csv(measurement, file);
  EXPECT_EQ(csv, report_csv({{file, measurement}}));
  // The height stands there as it was measured, to more digits than any length is known to.
  constexpr double kLeftOut = 1e-6;  // mm, by printing
  const std::string start = "\r\nShelf jar,height,";
  ASSERT_THAT(csv, HasSubstr(start));
  const MeasuredSize* const height = find_size(measurement.answer, SizeName::kHeight);
  ASSERT_NE(height, nullptr);
  EXPECT_NEAR(std::stod(csv.substr(csv.find(start) + start.size())), height->measured.value,
              kLeftOut);
}

// --- Budget, advice, scale and form -------------------------------------------------------------

TEST(BudgetParts, NameWhatMattersAndAddUpToTheWhole) {
  MeasuredSize size;
  size.budget = {0.50, 0.02, 0.30, 0.10, 0.06, 0.01, 0.01, 0.0};
  const std::vector<BudgetPart> parts = budget_parts(size);
  ASSERT_EQ(parts.size(), 5u);
  EXPECT_EQ(parts[0].source, DoubtSource::kMarks);
  EXPECT_EQ(parts[0].words, "the marks");
  EXPECT_EQ(parts[0].percent, "50 %");
  EXPECT_EQ(parts[1].source, DoubtSource::kReferencePlace);
  EXPECT_EQ(parts[3].source, DoubtSource::kLens);
  EXPECT_FALSE(parts[4].source);
  EXPECT_EQ(parts[4].words, "all else");
  EXPECT_EQ(parts[4].percent, "4 %");
  double sum = 0.0;
  for (const BudgetPart& part : parts) sum += part.share;
  EXPECT_NEAR(sum, 1.0, 1e-12);  // rounding of five sums
  size.budget = {};
  EXPECT_TRUE(budget_parts(size).empty());
  size.budget = {1.0};
  EXPECT_EQ(budget_parts(size).size(), 1u);
}

TEST(AdviceWords, SayWhatTheIntervalWouldBecome) {
  Measurement measurement = made_up_measurement();
  Answer& answer = measurement.answer;
  const double sd = find_size(answer, SizeName::kHeight)->measured.sd;
  Advice advice;
  advice.what = "measure how high the riser is, to a millimetre";
  advice.size = SizeName::kHeight;
  advice.sd_now = 1.5;
  advice.sd_then = 1.0;
  answer.advice = {advice};
  EXPECT_GT(sd, 0.0);
  // 1.96 times the standard deviations: 2.94 and 1.96 mm.
  EXPECT_EQ(advice_words(answer),
            "Measure how high the riser is, to a millimetre. The height would then be known to "
            "± 2.0 mm instead of ± 2.9 mm.");
  EXPECT_THAT(advice_words(answer, LengthUnit::kCm), testing::HasSubstr("± 0.20 cm"));
  answer.scale = ScaleSource::kNone;
  EXPECT_EQ(advice_words(answer), "");
}

TEST(FigureRows, OfAGuessedScaleAreMarkedAndWithoutOneThereAreNone) {
  Measurement measurement = sample_measurement();
  EXPECT_FALSE(figure_rows(measurement, LengthUnit::kMm).front().guessed);
  measurement.answer.scale = ScaleSource::kGuess;
  int rows = 0;
  for (const FigureRow& row : figure_rows(measurement, LengthUnit::kMm)) {
    EXPECT_TRUE(row.guessed) << row.label;
    ++rows;
  }
  EXPECT_EQ(rows, 8);
  measurement.answer.scale = ScaleSource::kNone;
  EXPECT_TRUE(figure_rows(measurement, LengthUnit::kMm).empty());
  EXPECT_FALSE(proportion_rows(measurement.answer).empty());
}

TEST(ScaleWords, SayWhatTheFiguresAreWorth) {
  EXPECT_EQ(scale_words(ScaleSource::kKnown), "");
  EXPECT_THAT(scale_words(ScaleSource::kGuess), testing::HasSubstr("hangs on a guess"));
  EXPECT_THAT(scale_words(ScaleSource::kNone), testing::HasSubstr("sizes are left open"));
}

TEST(FormWords, TellOutOfRoundAndUneven) {
  EXPECT_EQ(out_of_round_words({normal_measured(2.1, 0.4)}),
            "It is 2.1 ± 0.8 % out of round: its widest diameter is that much larger than its "
            "narrowest.");
  Uneven uneven;
  EXPECT_EQ(uneven_words(uneven, LengthUnit::kMm, ScaleSource::kKnown),
            "Left and right agree as well as the marks can tell, so it stands upright and even.");
  uneven.lean_deg = normal_measured(-1.2, 0.2);
  uneven.widest_mm = 3.0;
  uneven.widest_sd_mm = 0.5;
  uneven.at_height_mm = 120.0;
  uneven.beyond_chance = true;
  EXPECT_EQ(uneven_words(uneven, LengthUnit::kMm, ScaleSource::kKnown),
            "Left and right differ: it leans 1.2 ± 0.4° to the left, and beyond that its left side "
            "stands out by up to 3.0 ± 1.0 mm, 120 mm up.");
  uneven.widest_mm = -3.0;
  EXPECT_THAT(uneven_words(uneven, LengthUnit::kCm, ScaleSource::kKnown),
              testing::HasSubstr("right side stands out by up to 0.30 ± 0.10 cm, 12 cm up"));
  EXPECT_THAT(uneven_words(uneven, LengthUnit::kMm, ScaleSource::kNone),
              testing::HasSubstr("3.0 ± 1.0 % of its height, 120 % of its height up"));
}

}  // namespace
}  // namespace potshadow

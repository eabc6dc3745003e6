// SPDX-License-Identifier: MIT
#include "desktop/words/clay_book_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "clay/bars.h"

namespace potshadow {
namespace {

using ::testing::HasSubstr;

ClayBody buff() {
  ClayBody body;
  body.record = "buff-mix";
  body.name = "Buff mix";
  body.mix = {{"Weir clay", MixKind::kClay, 70.0, "weir"}, {"Grog", MixKind::kTemper, 30.0}};
  body.bars = {test::bar(100.0, 94.0, 88.0), test::bar(100.0, 94.4, 88.4),
               test::bar(100.0, 94.2, 88.2)};
  body.bars[0].firing_c = 950.0;
  body.bars[1].firing_c = 950.0;
  body.bars[2].firing_c = 950.0;
  return body;
}

ClayBody without_bars() {
  ClayBody body;
  body.record = "pit";
  return body;
}

TEST(ClayLines, SayWhatEachClayRestsOn) {
  const std::vector<ClayLine> lines = clay_lines({{buff(), without_bars()}});
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(lines[0].name, "Buff mix");
  EXPECT_THAT(lines[0].shrinkage, HasSubstr("11.8"));
  EXPECT_EQ(lines[0].source, "3 bars");
  EXPECT_FALSE(lines[0].estimate);
  EXPECT_EQ(lines[1].name, "pit");
  EXPECT_EQ(lines[1].source, "a handbook's range");
  EXPECT_TRUE(lines[1].estimate);
}

TEST(ClayLines, OwnToBarsOfSeveralFirings) {
  ClayBody body = buff();
  body.bars[2].firing_c = 1050.0;
  EXPECT_EQ(clay_lines({{body}}).at(0).shrinkage, "–");
}

// 94 of 100 mm is 6 % of the wet length; 88 of 94 is 6.4 % of the dry one; they make 12 %.
TEST(BarLines, CountEachLossOnItsOwnLength) {
  ClayBody body = buff();
  body.bars[0].way = BarWay::kVertical;
  body.bars[0].note = "top shelf";
  body.bars[1].used = false;
  body.bars[1].firing_c.reset();
  body.bars[1].cone = "06";
  const std::vector<BarLine> lines = bar_lines(body, LengthUnit::kMm);
  ASSERT_EQ(lines.size(), 3U);
  EXPECT_EQ(lines[0].wet, "100.0");
  EXPECT_EQ(lines[0].leather, "");
  EXPECT_EQ(lines[0].drying, "6.0 %");
  EXPECT_EQ(lines[0].firing, "6.4 %");
  EXPECT_EQ(lines[0].total, "12.0 %");
  EXPECT_EQ(lines[0].heat, "950 °C");
  EXPECT_EQ(lines[0].remark, "upright, top shelf");
  EXPECT_EQ(lines[1].heat, "cone 06");
  EXPECT_EQ(lines[1].remark, "left out");
  EXPECT_FALSE(lines[1].used);
  EXPECT_EQ(bar_lines(body, LengthUnit::kInch).at(0).wet, "3.94");
}

TEST(MixLines, ShareTheWhole) {
  const std::vector<MixLine> lines = mix_lines(buff());
  ASSERT_EQ(lines.size(), 2U);
  EXPECT_EQ(lines[0].percent, "70.0 %");
  EXPECT_EQ(lines[1].kind, "temper");
}

TEST(ClayFigureLines, SayOnWhichLengthTheyCount) {
  const std::vector<ClayFigureLine> lines =
      clay_figure_lines(body_figures(buff(), {}, std::nullopt).value());
  ASSERT_GE(lines.size(), 9U);
  EXPECT_EQ(lines[0].label, "Drying");
  EXPECT_EQ(lines[0].basis, "of the wet length");
  EXPECT_EQ(lines[1].basis, "of the bone-dry length");
  EXPECT_EQ(lines[2].source, "3 bars");
  EXPECT_FALSE(lines[2].estimate);
  // No bar was measured leather-hard or weighed.
  EXPECT_TRUE(lines[3].estimate);
  EXPECT_TRUE(lines[4].estimate);
}

TEST(ClayStanding, SaysHandbookAndMixForWhatTheyAre) {
  const auto standing = [](const ClayBody& body, const std::vector<ClayBody>& book) {
    return clay_standing(body, body_figures(body, book, std::nullopt));
  };
  EXPECT_THAT(standing(without_bars(), {}), HasSubstr("handbook's wide range"));
  ClayBody mix = without_bars();
  mix.mix = {{"Buff mix", MixKind::kClay, 1.0, "buff-mix"}};
  EXPECT_THAT(standing(mix, {buff()}), HasSubstr("estimate"));
  ClayBody lone = buff();
  lone.bars.resize(1);
  EXPECT_THAT(standing(lone, {}), HasSubstr("Few bars"));
  EXPECT_THAT(standing(buff(), {}), HasSubstr("95 % interval"));
  ClayBody torn = buff();
  torn.bars[2].firing_c = 1050.0;
  EXPECT_THAT(standing(torn, {}), HasSubstr("which firing is meant"));
}

TEST(TakenInWords, NameWhatCameUnderANewName) {
  EXPECT_EQ(taken_in_words({{}, {}, {}}), "There was no clay in that file.");
  EXPECT_EQ(taken_in_words({{}, {"weir"}, {}}), "Took 1 clay into the book: weir.");
  EXPECT_THAT(taken_in_words({{}, {"weir-2", "pit"}, {"weir-2"}}),
              HasSubstr("the new ones are called weir-2."));
}

TEST(ClayProblem, NamesTheWindowsWay) {
  Project project;
  project.clay = ProjectClay();
  project.clay->record = "gone";
  const auto found = project_clay(project, {});
  ASSERT_FALSE(found.ok());
  const Problem words = clay_problem_words(found.problem());
  EXPECT_EQ(words.what, "The clay 'gone' is not in your book of clays.");
  EXPECT_EQ(words.next.find("potshadow"), std::string::npos);
}

}  // namespace
}  // namespace potshadow

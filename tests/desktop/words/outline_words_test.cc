// SPDX-License-Identifier: MIT
#include "desktop/words/outline_words.h"

#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <string>

#include "desktop/words/sample.h"
#include "estimate/mark_checks.h"

namespace potshadow {
namespace {

ProjectMarks marks_of_counts(std::size_t rim, std::size_t base, std::size_t left,
                             std::size_t right) {
  ProjectMarks marks;
  marks.rim.resize(rim);
  marks.base.resize(base);
  marks.left.resize(left);
  marks.right.resize(right);
  return marks;
}

TEST(MarkKindWords, AskForAsManyAsTheEstimate) {
  EXPECT_EQ(mark_kind_words(MarkKind::kRim, false).least, internal::kLeastRimMarks);
  EXPECT_EQ(mark_kind_words(MarkKind::kBase, false).least, internal::kLeastBaseMarks);
  EXPECT_EQ(mark_kind_words(MarkKind::kLeft, false).least, internal::kLeastOutlineMarks);
  EXPECT_EQ(mark_kind_words(MarkKind::kRight, false).least, internal::kLeastOutlineMarks);
  EXPECT_EQ(mark_kind_words(MarkKind::kBase, true).least, 0U);
}

TEST(MarkKindWords, SayWhatAndWhy) {
  const MarkKindWords rim = mark_kind_words(MarkKind::kRim, false);
  EXPECT_EQ(rim.title, "Rim");
  EXPECT_EQ(rim.what, "Mark the outer edge of the lip, spread all round it, the back edge too.");
  EXPECT_EQ(rim.why,
            "The rim's oval shows how far you looked down on the pot, and fixes its mouth.");
  EXPECT_EQ(mark_kind_words(MarkKind::kBase, true).what,
            "Leave the foot out: you said that the base is round.");
}

TEST(MarksWanting, CountsBothSidesTogether) {
  EXPECT_EQ(marks_wanting(MarkKind::kRim, marks_of_counts(2, 0, 0, 0), false), 3U);
  EXPECT_EQ(marks_wanting(MarkKind::kRim, marks_of_counts(9, 0, 0, 0), false), 0U);
  EXPECT_EQ(marks_wanting(MarkKind::kBase, {}, false), 3U);
  EXPECT_EQ(marks_wanting(MarkKind::kBase, {}, true), 0U);
  EXPECT_EQ(marks_wanting(MarkKind::kLeft, marks_of_counts(0, 0, 1, 4), false), 1U);
  EXPECT_EQ(marks_wanting(MarkKind::kRight, marks_of_counts(0, 0, 2, 4), false), 0U);
}

TEST(MarkPrompt, LeadsFromNoneToEnough) {
  const auto prompt = [](std::size_t rim) {
    return mark_prompt(MarkKind::kRim, marks_of_counts(rim, 0, 0, 0), false);
  };
  EXPECT_EQ(prompt(0), "Mark at least 5 points on the rim.");
  EXPECT_EQ(prompt(3), "3 marked; mark at least 2 more points on the rim.");
  EXPECT_EQ(prompt(4), "4 marked; mark at least 1 more point on the rim.");
  EXPECT_EQ(prompt(5), "5 marked, which is enough; more make it surer.");
  EXPECT_EQ(mark_prompt(MarkKind::kBase, {}, true), "A round base needs no marks.");
  EXPECT_EQ(mark_prompt(MarkKind::kBase, {}, false), "Mark at least 3 points on the foot.");
  EXPECT_EQ(mark_prompt(MarkKind::kRight, marks_of_counts(0, 0, 6, 0), false),
            "None marked down the right side; mark it too, unless it is hidden.");
}

TEST(WorstMark, IsNamedForTheSample) {
  const Measurement measurement = sample_measurement();
  ASSERT_FALSE(measurement.answer.fit.worst.empty());
  const MarkResidual& worst = measurement.answer.fit.worst.front();
  // Which one is worst is not ours to say; the estimate calls it "right 7".
  const std::size_t space = worst.mark.find(' ');
  ASSERT_NE(space, std::string::npos);
  std::array<char, 80> figures{};
  ASSERT_GT(
      std::snprintf(figures.data(), figures.size(),
                    ", %.1f px off (%.1f times what marking allows)", worst.off_px, worst.off_sd),
      0);
  EXPECT_EQ(worst_mark_words(measurement), "Worst: " + worst.mark.substr(0, space) + " mark" +
                                               worst.mark.substr(space) + figures.data());
}

TEST(WorstMark, IsGivenToOneDecimal) {
  Measurement measurement = sample_measurement();
  MarkResidual mark;
  mark.place = {MarkKind::kRight, 0, 6};
  mark.off_px = 1.74;
  mark.off_sd = 1.16;
  measurement.answer.fit.worst = {mark};
  EXPECT_EQ(worst_mark_words(measurement),
            "Worst: right mark 7, 1.7 px off (1.2 times what marking allows)");
}

TEST(WorstMark, NamesADiscsEdge) {
  Measurement measurement = sample_measurement();
  measurement.project.photos[0].references.resize(2);
  measurement.project.photos[0].references[1].kind = "disc";
  measurement.project.photos[0].references[1].edge.resize(5);
  MarkResidual mark;
  mark.place = {MarkKind::kReference, 1, 3};
  mark.off_px = 2.06;
  mark.off_sd = 2.1;
  measurement.answer.fit.worst = {mark};
  EXPECT_EQ(worst_mark_words(measurement),
            "Worst: edge mark 4 of reference 2, 2.1 px off (2.1 times what marking allows)");
  measurement.answer.fit.worst.clear();
  EXPECT_EQ(worst_mark_words(measurement), "");
}

TEST(FitSentence, Judges) {
  Fit fit;
  fit.marks = 54;
  fit.rms_px = 0.52;
  EXPECT_EQ(fit_sentence(fit),
            "The 54 marks lie 0.5 pixels from the fitted vessel on the whole, which is good.");
  fit.scatter_ratio = 1.5;
  EXPECT_EQ(fit_sentence(fit),
            "The 54 marks lie 0.5 pixels from the fitted vessel on the whole, which is more than "
            "you stated for them.");
  fit.scatter_ratio = 2.5;
  EXPECT_EQ(fit_sentence(fit),
            "The 54 marks lie 0.5 pixels from the fitted vessel on the whole, which is far more "
            "than you stated for them.");
}

TEST(HelpLine, FollowsToolAndSelection) {
  EXPECT_EQ(help_line({}),
            "Click a mark to select it, drag across several, or turn the wheel to zoom.");
  EXPECT_EQ(help_line({.over_mark = true}), "Click to select the mark, or drag it to its place.");
  EXPECT_EQ(help_line({.selected = 1}),
            "Arrow keys nudge the mark by 1 px, with Alt by 0.1 px. E snaps it to the edge, Delete "
            "removes it.");
  EXPECT_EQ(help_line({.selected = 3}),
            "3 marks selected. Drag or nudge them together, E snaps them to the edge, Delete "
            "removes them.");
  EXPECT_EQ(help_line({.selected = 3, .dragging = true}), "Let go to set it. Esc puts it back.");
  EXPECT_EQ(help_line({.tool = MarkKind::kRim}),
            "Click on the outer edge of the lip, all round it. Esc when you are done.");
  EXPECT_EQ(help_line({.tool = MarkKind::kBase}),
            "Click where the front of the foot meets the shelf. Esc when you are done.");
  EXPECT_EQ(help_line({.tool = MarkKind::kReference}),
            "Click the reference's marks in the order asked for. Esc when you are done.");
  EXPECT_EQ(help_line({.tool = MarkKind::kLeft, .over_mark = true}),
            "Drag the mark to its place, or click beside it for a new one.");
}

}  // namespace
}  // namespace potshadow

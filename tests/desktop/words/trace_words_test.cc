// SPDX-License-Identifier: MIT
#include "desktop/words/trace_words.h"

#include <gtest/gtest.h>

#include <array>
#include <set>
#include <string>

#include "desktop/words/outline_words.h"
#include "desktop/words/sample.h"
#include "desktop/words/steps.h"

namespace potshadow {
namespace {

ProjectTrace some_trace() {
  ProjectTrace trace;
  trace.box = {PhotoPoint{1350.0, 520.0}, PhotoPoint{3070.0, 2390.0}};
  trace.left.resize(154);
  trace.right.resize(153);
  trace.rim.resize(186);
  trace.base.resize(49);
  trace.doubtful = {{"left", "the edge is too faint here", {}}, {"rim", "", {}}};
  return trace;
}

TEST(FoundWords, CountEveryEdgeAndWhatWasLeftOut) {
  EXPECT_EQ(found_words(some_trace(), true, true),
            "154 marks left, 153 right, 186 on the rim, 49 on the foot; 2 stretches left out.");
  ProjectTrace little;
  little.left.resize(1);
  little.doubtful.resize(1);
  EXPECT_EQ(found_words(little, false, false), "1 mark left, 0 right; 1 stretch left out.");
  little.doubtful.clear();
  EXPECT_EQ(found_words(little, true, false), "1 mark left, 0 right, 0 on the rim.");
}

TEST(LeftOutWords, TellTheEdgeTheReasonAndWhatToDo) {
  const ProjectTrace trace = some_trace();
  EXPECT_EQ(left_out_words(trace.doubtful[0]),
            "Left out on the left side: the edge is too faint here. Mark it by hand if you can see "
            "it.");
  EXPECT_EQ(left_out_words(trace.doubtful[1]),
            "Left out on the rim. Mark it by hand if you can see it.");
  // A file may hold anything; it stays one line.
  EXPECT_EQ(left_out_words({"handle", "two\nlines", {}}),
            "Left out: two?lines. Mark it by hand if you can see it.");
}

TEST(TraceTools, EachHasItsOwnWordsAndTheHelpLineSaysThem) {
  std::set<std::string_view> titles;
  for (const TraceTool tool :
       {TraceTool::kBox, TraceTool::kPaintVessel, TraceTool::kPaintAway, TraceTool::kRubOut}) {
    titles.insert(trace_tool_words(tool).title);
    EXPECT_EQ(help_line({.tracing = tool}), trace_tool_words(tool).help);
  }
  EXPECT_EQ(titles.size(), 4u);
  EXPECT_EQ(help_line({.left_out = "Left out on the rim."}), "Left out on the rim.");
}

TEST(TracedMarks, CountForTheOutlineStep) {
  Document document = sample_document();
  ProjectPhoto& photo = document.photos[0];
  const ProjectMarks by_hand = photo.marks;
  photo.marks = {};
  EXPECT_EQ(step_status(Step::kOutline, document, {}).state, StepState::kMissing);
  ProjectTrace trace;
  trace.box = {PhotoPoint{0.0, 0.0}, PhotoPoint{4032.0, 3024.0}};
  const auto traced = [](const std::vector<PhotoPoint>& points) {
    std::vector<TracedPoint> marks;
    for (const PhotoPoint& point : points) marks.push_back({point, 0.3});
    return marks;
  };
  trace.rim = traced(by_hand.rim);
  trace.base = traced(by_hand.base);
  trace.left = traced(by_hand.left);
  trace.right = traced(by_hand.right);
  photo.trace = trace;
  EXPECT_EQ(step_status(Step::kOutline, document, {}).state, StepState::kDone);
  EXPECT_EQ(counted_marks(photo).rim, by_hand.rim);
  // A mark of the hand takes the place of the traced ones near it.
  photo.marks.rim = {by_hand.rim[0]};
  EXPECT_LT(counted_marks(photo).rim.size(), by_hand.rim.size() + 1);
  EXPECT_EQ(counted_marks(photo).rim[0], by_hand.rim[0]);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "project/join_trace.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <utility>

#include "project/measure.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// A traced left outline in a box with a diagonal of 1000 px, so that a mark of the hand overrules
// what is nearer than 20 px.
ProjectPhoto traced_photo() {
  ProjectPhoto photo;
  photo.trace.emplace();
  photo.trace->box = {PhotoPoint{100.0, 100.0}, PhotoPoint{900.0, 700.0}};
  photo.trace->left = {{{200.0, 300.0}, 0.2}, {{205.0, 330.0}, 0.3}, {{210.0, 360.0}, 0.25}};
  photo.marks.sd_px = 0.8;
  return photo;
}

TEST(JoinTrace, TracedMarksFollowTheHandsWithTheirOwnPrecision) {
  ProjectPhoto photo = traced_photo();
  photo.marks.left = {{198.0, 250.0}};
  const Marks marks = joined_marks(photo);
  EXPECT_THAT(marks.left, ElementsAre(PhotoPoint{198.0, 250.0}, PhotoPoint{200.0, 300.0},
                                      PhotoPoint{205.0, 330.0}, PhotoPoint{210.0, 360.0}));
  EXPECT_THAT(marks.left_sd_px, ElementsAre(0.0, 0.2, 0.3, 0.25));
  EXPECT_EQ(marks.sd_px, 0.8);
  EXPECT_THAT(marks.right, IsEmpty());
  EXPECT_THAT(marks.right_sd_px, IsEmpty());
}

TEST(JoinTrace, HandOverrulesWhatWasTracedNearIt) {
  ProjectPhoto photo = traced_photo();
  photo.marks.left = {{216.0, 330.0}};
  const Marks marks = joined_marks(photo);
  EXPECT_THAT(marks.left, ElementsAre(PhotoPoint{216.0, 330.0}, PhotoPoint{200.0, 300.0},
                                      PhotoPoint{210.0, 360.0}));
  // Another edge's mark overrules nothing.
  photo.marks.left.clear();
  photo.marks.right = {{205.0, 330.0}};
  EXPECT_EQ(joined_marks(photo).left.size(), 3u);
}

TEST(JoinTrace, WithoutTraceMarksAreTheHandsAlone) {
  ProjectPhoto photo;
  EXPECT_FALSE(has_marks(photo));
  photo.marks.rim = {{1.0, 2.0}};
  EXPECT_TRUE(has_marks(photo));
  EXPECT_THAT(joined_marks(photo).rim_sd_px, IsEmpty());
  EXPECT_TRUE(has_marks(traced_photo()));
}

TEST(JoinTrace, TraceIsSavedAndLoaded) {
  Project project;
  project.photos.push_back(traced_photo());
  ProjectTrace& trace = *project.photos.front().trace;
  trace.strokes = {{false, 24.0, {{300.0, 300.0}, {310.0, 320.0}}}};
  trace.rim = {{{400.0, 150.25}, 0.15}};
  trace.doubtful = {{"right", "a neighbour hides it", {{880.0, 300.0}, {881.0, 350.0}}}};
  const Result<Project> loaded = parse_project(project_text(project), "jar.potshadow");
  ASSERT_TRUE(loaded.ok()) << loaded.problem().what;
  ASSERT_TRUE(loaded->photos.front().trace.has_value());
  const ProjectTrace& back = *loaded->photos.front().trace;
  EXPECT_EQ(back.box, trace.box);
  EXPECT_EQ(back.strokes, trace.strokes);
  EXPECT_EQ(back.rim, trace.rim);
  EXPECT_EQ(back.left, trace.left);
  EXPECT_EQ(back.doubtful, trace.doubtful);
  // Written again it is the same text; taken out it leaves nothing behind.
  EXPECT_EQ(project_text(*loaded), project_text(project));
  Project without = *loaded;
  without.photos.front().trace.reset();
  EXPECT_THAT(project_text(without), testing::Not(HasSubstr("box_px")));
}

TEST(JoinTrace, WrongTracesAreNamed) {
  const auto problem_of = [](const std::string& trace) {
    const Result<Project> parsed = parse_project(
        "{\"potshadow\": 1, \"photos\": [{\"file\": \"a.jpg\", \"trace\": " + trace + "}]}", "jar");
    return parsed.ok() ? std::string() : parsed.problem().what;
  };
  const std::string box = "\"box_px\": [[1, 2], [30, 40]]";
  EXPECT_EQ(problem_of("{" + box + "}"), "");
  const std::pair<std::string, std::string> wrong[] = {
      {"{}", "'box_px' is missing"},
      {"{" + box + ", \"left_px\": [[1, 2]]}", "three numbers"},
      {"{" + box + ", \"left_px\": [[1, 2, 0]]}", "should be between"},
      {"{" + box + ", \"rim_px\": [[1, 1e9, 0.2]]}", "far outside any photograph"},
      {"{" + box + ", \"strokes\": [{\"width_px\": -1}]}", "should be between"},
      {"7", "a group of keys"}};
  for (const auto& [trace, words] : wrong)
    EXPECT_THAT(problem_of(trace), HasSubstr(words)) << trace;
}

}  // namespace
}  // namespace potshadow

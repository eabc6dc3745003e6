// SPDX-License-Identifier: MIT
// The outline found from a box, mended with brushes, taken back and given up, at the window.
#include <gtest/gtest.h>

#include <filesystem>
#include <map>
#include <string>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"

namespace potshadow::bench {
namespace {

// Source: samples/scenes/truth-shelf-jar.json, what the picture was made from.
constexpr double kHeightMm = 235.0;
// Tracing reads all of 12 megapixels several times and measures between: a machine that has much
// else to do takes its time.
constexpr double kTracePatience = 4.0 * kPatienceSeconds;

// Rough, round the sample's jar.
constexpr PhotoPoint kBoxFrom{1350.0, 520.0};
constexpr PhotoPoint kBoxTo{3070.0, 2390.0};

class TraceAtTheWindow : public AtTheBench {
 protected:
  void SetUp() override {
    AtTheBench::SetUp();
    if (HasFailure() || IsSkipped()) return;
    project_ = copy_of_sample();
    Project project = loaded(project_);
    project.photos.at(0).marks = {};
    ASSERT_TRUE(save_project(project, project_).ok());
    start({.arguments = {project_.string()}});
    window().wait_until("the photograph", [](const Seen& seen) {
      return seen.open && seen.canvas.pixels_per_photo_pixel > 0.0;
    });
    window().click("Outline");
  }

  Seen find_outline() {
    window().click(labels::kFindOutline);
    window().drag_photo_without_waiting(kBoxFrom, kBoxTo);
    return until_traced("the outline", 0);
  }
  // Waits until there is an outline with that many strokes, and its figures.
  Seen until_traced(const std::string& what, int strokes) {
    return window().wait_until(
        what,
        [&](const Seen& seen) {
          return seen.traced.at("left") > 0 && seen.traced.at("strokes") == strokes &&
                 !seen.tracing && seen.figures == "current";
        },
        kTracePatience);
  }

  std::filesystem::path project_;
};

TEST_F(TraceAtTheWindow, ABoxGivesTheFiguresAndBrushesMendThem) {
  const Seen before = window().see();
  EXPECT_EQ(before.figures, "none");
  window().screenshot("trace-1-before");
  const Seen found = find_outline();
  EXPECT_EQ(found.undo, before.undo + 1);
  EXPECT_EQ(found.trace_problem, "");
  EXPECT_EQ(found.problem, "");
  int edges = 0;
  for (const char* edge : {"left", "right", "rim", "base"}) {
    EXPECT_GT(found.traced.at(edge), 10) << edge;
    ++edges;
  }
  EXPECT_EQ(edges, 4);
  ASSERT_TRUE(found.sizes.contains("height"));
  window().put_pointer_aside();
  window().screenshot("trace-2-found");

  // Saved, the command line gives the same, and its interval holds the truth.
  window().key("ctrl+s");
  window().wait_until("the project to be saved", [](const Seen& seen) { return !seen.unsaved; });
  const auto [low, high] = height_interval_by_command_line(project_);
  EXPECT_LE(low, kHeightMm);
  EXPECT_GE(high, kHeightMm);
  EXPECT_GE(found.sizes.at("height"), low);
  EXPECT_LE(found.sizes.at("height"), high);

  window().key("ctrl+z");
  EXPECT_EQ(window().see().traced.at("left"), 0);
  window().key("ctrl+shift+z");
  const Seen again = until_traced("the outline again", 0);
  EXPECT_EQ(again.traced, found.traced);
  EXPECT_EQ(again.sizes, found.sizes);

  // One stroke, one step.
  window().click(labels::kPaintVessel);
  window().drag_photo_without_waiting({2000.0, 1500.0}, {2400.0, 1500.0});
  const Seen painted = until_traced("the outline after a stroke", 1);
  EXPECT_EQ(painted.undo, again.undo + 1);

  // Rubbing out takes found marks away where the brush goes, and no stroke is added.
  window().click(labels::kRubOut);
  const TracedPoint spot = loaded(project_).photos.at(0).trace.value().left.at(40);
  window().drag_photo({spot.at.x_px, spot.at.y_px - 60.0}, {spot.at.x_px, spot.at.y_px + 60.0});
  const Seen rubbed = until_traced("the outline after rubbing", 1);
  EXPECT_LT(rubbed.traced.at("left"), painted.traced.at("left"));
  EXPECT_EQ(rubbed.traced.at("right"), painted.traced.at("right"));
  EXPECT_EQ(rubbed.undo, painted.undo + 1);
  window().put_pointer_aside();
  window().screenshot("trace-3-mended");

  window().click(labels::kRemoveFound);
  const Seen removed = window().rest();
  EXPECT_EQ(removed.traced.at("left"), 0);
  EXPECT_EQ(removed.undo, rubbed.undo + 1);
  EXPECT_FALSE(window().has(labels::kPaintAway));
}

TEST_F(TraceAtTheWindow, EscapeGivesItUpAndNothingIsLost) {
  const Seen before = window().see();
  window().key("o");
  window().drag_photo_without_waiting(kBoxFrom, kBoxTo);
  window().key("Escape");
  const Seen after = window().rest();
  EXPECT_FALSE(after.tracing);
  EXPECT_EQ(after.undo, before.undo);
  EXPECT_EQ(after.traced.at("left"), 0);
  EXPECT_EQ(after.trace_problem, "");
}

TEST_F(TraceAtTheWindow, AClickIsNoBoxAndBareShelfIsNoVessel) {
  window().key("o");
  window().click_photo(kBoxFrom);
  EXPECT_EQ(window().see().problem, "That is no box, so nothing was looked for.");
  // A corner of the wall beside the jar.
  window().drag_photo({100.0, 100.0}, {700.0, 700.0});
  const Seen seen = window().rest();
  EXPECT_NE(seen.trace_problem, "");
  EXPECT_EQ(seen.undo, 0);
  window().put_pointer_aside();
  window().screenshot("trace-4-nothing");
}

}  // namespace
}  // namespace potshadow::bench

// SPDX-License-Identifier: MIT
// The keyboard alone gets everywhere, and the pointer cannot put a mark off the picture.
#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"

namespace potshadow::bench {
namespace {

constexpr double kRounding = 1e-9;  // of a few sums of a nudge

bool figures_current(const Seen& seen) { return seen.figures == "current"; }

class Keys : public AtTheBench {
 protected:
  void SetUp() override {
    AtTheBench::SetUp();
    if (HasFailure() || IsSkipped()) return;
    project_ = copy_of_sample();
    start({.arguments = {project_.string()}});
    window().wait_until("the figures", figures_current);
  }

  // Returns the rim marks after saving.
  std::vector<PhotoPoint> saved_rim() {
    window().key("ctrl+s");
    window().wait_until("the project to be saved", [](const Seen& seen) { return !seen.unsaved; });
    return loaded(project_).photos.at(0).marks.rim;
  }

  std::filesystem::path project_;
};

TEST_F(Keys, DigitsAndHGoToTheSteps) {
  int steps = 0;
  for (const std::string& step : labels::kSteps) {
    ++steps;
    window().key(step == "Compare" ? "h" : std::to_string(steps));
    EXPECT_EQ(window().see().step, step);
  }
  EXPECT_EQ(steps, 9);
}

TEST_F(Keys, WhatIsBeingTypedIsSaved) {
  window().key("1");
  window().type_into(labels::kName, "Typed jar");
  window().key("ctrl+s");
  window().wait_until("the project to be saved",
                      [](const Seen& seen) { return !seen.unsaved && seen.undo == 1; });
  EXPECT_EQ(loaded(project_).name, "Typed jar");
}

TEST_F(Keys, HelpThemeAndFoldsComeAndGo) {
  window().key("F1");
  EXPECT_EQ(window().see().middle, "help");
  window().screenshot("keys-help");
  window().key("Escape");
  EXPECT_EQ(window().see().middle, "photo");

  EXPECT_EQ(window().see().theme, "daylight");
  window().key("d");
  EXPECT_EQ(window().see().theme, "evening");

  const double width = window().see().canvas.area.width;
  window().key("b");
  const double without_steps = window().see().canvas.area.width;
  EXPECT_GT(without_steps, width);
  window().key("g");
  EXPECT_GT(window().see().canvas.area.width, without_steps);
  window().screenshot("keys-folded");
  window().key("ctrl+q");
  EXPECT_EQ(window().wait_for_end(), 0);

  // All of it is remembered.
  start({.arguments = {project_.string()}});
  const Seen again = window().wait_until("the figures", figures_current);
  EXPECT_EQ(again.theme, "evening");
  EXPECT_GT(again.canvas.area.width, without_steps);
}

TEST_F(Keys, ArrowsNudgeTheMarkThatTabSelects) {
  const std::vector<PhotoPoint> before = loaded(project_).photos.at(0).marks.rim;
  window().key("Tab");
  EXPECT_EQ(window().see().selected, 1);
  // The first mark of all is the first on the rim.
  PhotoPoint expected = before.at(0);
  const std::vector<std::pair<std::string, PhotoPoint>> nudges{{"Right", {1.0, 0.0}},
                                                               {"Down", {0.0, 1.0}},
                                                               {"alt+Left", {-0.1, 0.0}},
                                                               {"alt+Up", {0.0, -0.1}},
                                                               {"shift+Right", {10.0, 0.0}}};
  for (const auto& [keys, by] : nudges) {
    window().key(keys);
    expected = {expected.x_px + by.x_px, expected.y_px + by.y_px};
  }
  const std::vector<PhotoPoint> after = saved_rim();
  ASSERT_EQ(after.size(), before.size());
  EXPECT_NEAR(after.at(0).x_px, expected.x_px, kRounding);
  EXPECT_NEAR(after.at(0).y_px, expected.y_px, kRounding);
  EXPECT_EQ(after.at(1), before.at(1));
}

TEST_F(Keys, EverythingIsSelectedRemovedAndBroughtBack) {
  const Seen before = window().see();
  const auto all = static_cast<int>(mark_count(before));
  window().key("ctrl+a");
  EXPECT_EQ(window().see().selected, all);
  window().key("Delete");
  EXPECT_EQ(mark_count(window().rest()), 0U);
  window().key("ctrl+z");
  const Seen back = window().wait_until("the figures again", figures_current);
  EXPECT_EQ(back.marks, before.marks);
  EXPECT_EQ(back.sizes, before.sizes);
  EXPECT_FALSE(back.unsaved);
  window().key("ctrl+y");
  EXPECT_EQ(mark_count(window().rest()), 0U);
}

TEST_F(Keys, AMarkDraggedOffThePictureStaysAtItsEdge) {
  const PhotoPoint mark = loaded(project_).photos.at(0).marks.rim.at(2);
  window().click("Outline");
  constexpr double kBeyond = 40.0;  // pixels off the picture's left side, in the margin beside it
  window().drag_photo(mark, {-kBeyond, mark.y_px});
  const PhotoPoint after = saved_rim().at(2);
  EXPECT_EQ(after.x_px, -0.5);  // the picture begins half a pixel before its first pixel's middle
}

}  // namespace
}  // namespace potshadow::bench

// SPDX-License-Identifier: MIT
// Every step in both themes on a small screen and on a fine one: something is shown, nothing amiss.
#include <gtest/gtest.h>

#include <string>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"

namespace potshadow::bench {
namespace {

// A photograph has thousands of colours, a page of a template the greys of its letters' edges. A
// canvas of one colour with a line of help has few, and next to no spread.
constexpr long kFewestColours = 16;
constexpr double kLeastSpread = 0.01;

struct Sight {
  std::string name;
  ScreenSize size;
  double scale = 1.0;
  std::string theme;
};

// The template's page comes from a worker.
bool shows_its_work(const Seen& seen) {
  return seen.step != "Templates" || find_widget(seen, labels::kTemplatePage);
}

class Look : public AtTheBench, public testing::WithParamInterface<Sight> {};

TEST_P(Look, EveryStepShowsItsWorkAndNoProblem) {
  const Sight& sight = GetParam();
  const std::string settings = labels::kSettingsStart + "\"theme\": \"" + sight.theme +
                               "\", \"scale\": " + std::to_string(sight.scale) + "}";
  start({.arguments = {copy_of_sample().string()}, .settings = settings}, sight.size);
  const Seen opened = window().wait_until(
      "the figures", [](const Seen& seen) { return seen.figures == "current"; });
  EXPECT_EQ(opened.theme, sight.theme);
  EXPECT_DOUBLE_EQ(opened.scale, sight.scale);

  int steps = 0;
  for (const std::string& step : labels::kSteps) {
    window().click(step);
    const Seen seen = window().wait_until(
        step, [&](const Seen& now) { return now.step == step && shows_its_work(now); });
    EXPECT_EQ(seen.problem, "") << step;
    window().put_pointer_aside();
    const auto png =
        window().screenshot("step-" + std::to_string(++steps) + "-" + step + "-" + sight.name);
    const Colours colours = window().canvas_colours(png);
    EXPECT_GE(colours.count, kFewestColours) << step;
    EXPECT_GE(colours.spread, kLeastSpread) << step;
  }
  EXPECT_EQ(steps, 9);
  window().key("ctrl+q");
  EXPECT_EQ(window().wait_for_end(), 0);
}

// The measure itself: a screen with nothing on it is blank.
TEST_F(AtTheBench, AnEmptyScreenCountsAsBlank) {
  const std::filesystem::path png = home() / "empty.png";
  screen().take_picture(png);
  const Colours colours = colours_in(png, {208.0, 0.0, 736.0, 768.0});
  EXPECT_EQ(colours.count, 1);
  EXPECT_LT(colours.spread, kLeastSpread);
}

INSTANTIATE_TEST_SUITE_P(OnEveryScreen, Look,
                         testing::Values(Sight{"1280x800_daylight", {1280, 800}, 1.0, "daylight"},
                                         Sight{"1280x800_evening", {1280, 800}, 1.0, "evening"},
                                         Sight{"2560x1600_daylight", {2560, 1600}, 2.0, "daylight"},
                                         Sight{"2560x1600_evening", {2560, 1600}, 2.0, "evening"}),
                         [](const auto& info) { return info.param.name; });

}  // namespace
}  // namespace potshadow::bench

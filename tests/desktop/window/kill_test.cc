// SPDX-License-Identifier: MIT
// Killed at any moment while it is edited and saved, a project stays whole.
#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"

namespace potshadow::bench {
namespace {

constexpr int kKills = 50;
constexpr unsigned kSeed = 20261125;
constexpr int kNudges = 20;
constexpr int kMostSteps = 8;            // seen before the kill; fewer than the nudges
constexpr double kLongestSeconds = 0.2;  // from there to the kill, some two saves
constexpr double kLookAgainSeconds = 0.005;

TEST_F(AtTheBench, KilledAtAnyMomentTheProjectLoadsAndKeepsWhatWasSaved) {
  const std::filesystem::path project = copy_of_sample();
  const Project model = loaded(project);
  std::mt19937 dice(kSeed);
  std::uniform_int_distribution<int> steps(0, kMostSteps);
  std::uniform_real_distribution<double> moment(0.0, kLongestSeconds);
  std::vector<std::string> keys;
  for (int i = 0; i < kNudges; ++i) keys.insert(keys.end(), {"Right", "ctrl+s"});

  int kills = 0;
  int saves = 0;
  for (int round = 0; round < kKills; ++round) {
    const double before = loaded(project).photos.at(0).marks.rim.at(2).x_px;
    start({.arguments = {project.string()}});
    window().wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
    while (window().see().question == "recover") window().click(labels::kDiscard);
    window().click("Outline");
    window().click_photo(loaded(project).photos.at(0).marks.rim.at(2));
    ASSERT_EQ(window().see().selected, 1) << round;
    std::unique_ptr<Process> hand = window().start_typing(keys);
    // A moment counted in the window's own steps comes on a slow machine too, only later.
    const int wanted = steps(dice);
    while (window().see().undo < wanted && !hand->ended()) sleep_seconds(kLookAgainSeconds);
    if (hand->ended()) {
      window().wait_until("the nudges", [&](const Seen& seen) { return seen.undo >= wanted; });
    }
    sleep_seconds(moment(dice));
    window().kill();
    window().stop_typing(std::move(hand), {"Right", "ctrl", "s"});
    // Each nudge is followed by saving, and is a step of its own for that: of the steps last seen,
    // all but the newest were on disk, and the newest too where nothing was unsaved.
    const Seen last = window().see();
    const int saved = last.unsaved ? std::max(last.undo - 1, 0) : last.undo;
    const Project left = loaded(project);
    ASSERT_EQ(mark_count(left), mark_count(model)) << round;
    const double now = left.photos.at(0).marks.rim.at(2).x_px;
    EXPECT_GE(now, before + saved - 1e-6) << round;
    EXPECT_LE(now, before + kNudges) << round;
    saves += saved;
    // Back to where it was, or the mark wanders off the rim.
    std::filesystem::copy_file(kSample, project, std::filesystem::copy_options::overwrite_existing);
    ++kills;
  }
  EXPECT_EQ(kills, kKills);
  EXPECT_GT(saves, kKills) << "it was killed before it did anything";
}

}  // namespace
}  // namespace potshadow::bench

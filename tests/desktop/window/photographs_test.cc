// SPDX-License-Identifier: MIT
// Several photographs of one vessel, and parts of it that none of them shows.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"

namespace potshadow::bench {
namespace {

class Photographs : public AtTheBench {
 protected:
  // The sample's picture as another file: nothing of its pixels changes.
  std::filesystem::path side_view() const {
    const std::filesystem::path file = pots("jar from the side ½.jpg");
    std::filesystem::copy_file(kSamplePhoto, file);
    std::ofstream(file, std::ios::binary | std::ios::app) << "another file";
    return file;
  }
  Seen wait_for_photo(int photo) {
    return window().wait_until("photograph " + std::to_string(photo), [&](const Seen& seen) {
      return seen.photo == photo && seen.canvas.pixels_per_photo_pixel > 0.0;
    });
  }
};

TEST_F(Photographs, AreAddedShownMarkedAndTakenOut) {
  const std::filesystem::path project = copy_of_sample();
  const Project before = loaded(project);
  const std::filesystem::path side = side_view();
  start({.arguments = {project.string()}});
  const Seen first = window().wait_until(
      "the figures", [](const Seen& seen) { return seen.figures == "current"; });
  EXPECT_EQ(first.photos, 1);
  window().click("Photo");
  window().click(labels::kAddPhotograph);
  window().paste_into(labels::kPath, side.string());
  window().click(labels::kOpen);
  const Seen added = wait_for_photo(1);
  EXPECT_EQ(added.photos, 2);
  EXPECT_EQ(mark_count(added), 0U);
  // Without marks it changes nothing.
  EXPECT_EQ(window()
                .wait_until("the same figures",
                            [](const Seen& seen) { return seen.figures == "current"; })
                .sizes,
            first.sizes);
  window().type_into(labels::kSeenFrom, "90");
  window().key("Return");
  window().screenshot("photographs-1-added");

  // Marks go to the one that is shown.
  window().click("Outline");
  window().click(labels::kRim);
  window().click_photo(before.photos.at(0).marks.rim.at(0));
  window().wait_until("the mark", [](const Seen& seen) { return marks_of(seen, "rim") == 1; });
  window().key("v");
  window().key("Prior");
  const Seen back = wait_for_photo(0);
  EXPECT_EQ(mark_count(back), mark_count(before));
  window().key("Next");
  EXPECT_EQ(mark_count(wait_for_photo(1)), 1U);

  // Undo of what was done on the other goes there.
  window().click("Photo");
  window().click("Show photograph 1");
  wait_for_photo(0);
  window().key("ctrl+z");
  EXPECT_EQ(mark_count(wait_for_photo(1)), 0U);
  window().key("ctrl+shift+z");

  window().click(labels::kTakeOut);
  const Seen out = wait_for_photo(0);
  EXPECT_EQ(out.photos, 1);
  EXPECT_EQ(out.question, "");
  window().wait_until("the figures again",
                      [](const Seen& seen) { return seen.figures == "current"; });
  window().screenshot("photographs-2-taken-out");
  window().key("ctrl+z");
  const Seen again = wait_for_photo(1);
  EXPECT_EQ(again.photos, 2);
  EXPECT_EQ(mark_count(again), 1U);

  window().key("ctrl+s");
  window().wait_until("it to be saved", [](const Seen& seen) { return !seen.unsaved; });
  const Project saved = loaded(project);
  ASSERT_EQ(saved.photos.size(), 2U);
  EXPECT_EQ(saved.photos[0], before.photos[0]);
  EXPECT_EQ(saved.photos[1].file, side.filename().string());
  EXPECT_EQ(saved.photos[1].direction_deg, 90.0);
  EXPECT_EQ(saved.photos[1].marks.rim.size(), 1U);
}

TEST_F(Photographs, PartsThatCannotBeSeenAreTickedAndBounded) {
  const std::filesystem::path project = copy_of_sample();
  start({.arguments = {project.string()}});
  window().wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
  window().click("Outline");
  window().click(labels::kHiddenFoot);
  window().type_into(labels::kFootAtLeast, "10");
  window().key("Return");
  window().type_into(labels::kFootAtMost, "25");
  window().key("Return");
  window().screenshot("hidden-1-foot");
  // A least above the most is not taken.
  window().type_into(labels::kFootAtLeast, "40");
  window().key("Return");
  EXPECT_THAT(window().rest().status, testing::HasSubstr("larger than the most"));
  window().click(labels::kHiddenRim);
  window().key("ctrl+z");
  window().key("ctrl+s");
  window().wait_until("it to be saved", [](const Seen& seen) { return !seen.unsaved; });
  const Project saved = loaded(project);
  ASSERT_TRUE(saved.hidden_foot);
  EXPECT_EQ(saved.hidden_foot->low_mm, 10.0);
  EXPECT_EQ(saved.hidden_foot->high_mm, 25.0);
  EXPECT_FALSE(saved.hidden_rim);
}

}  // namespace
}  // namespace potshadow::bench

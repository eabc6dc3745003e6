// SPDX-License-Identifier: MIT
// References of every sort are added, marked and typed at the window, and stand in the file.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "desktop/window/bench_test.h"
#include "desktop/window/labels.h"

namespace potshadow::bench {
namespace {

// A click falls on whole pixels of the screen; the sample's 4032 pixels take about 700 of them, so
// it may be off by half of 6 photo pixels, and as much again by the pointer's own rounding.
constexpr double kClickReachPx = 6.0;
constexpr double kRounding = 1e-9;  // of a few sums of a nudge

void expect_near(const std::vector<PhotoPoint>& found, const std::vector<PhotoPoint>& wanted,
                 const std::string& what) {
  ASSERT_EQ(found.size(), wanted.size()) << what;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    EXPECT_NEAR(found[i].x_px, wanted[i].x_px, kClickReachPx) << what << " " << i;
    EXPECT_NEAR(found[i].y_px, wanted[i].y_px, kClickReachPx) << what << " " << i;
  }
}

class References : public AtTheBench {
 protected:
  void SetUp() override {
    AtTheBench::SetUp();
    if (HasFailure() || IsSkipped()) return;
    project_ = copy_of_sample();
    start({.arguments = {project_.string()}});
    window().wait_until("the figures", [](const Seen& seen) { return seen.figures == "current"; });
    window().click("Reference");
  }

  void add(const std::string& kind) {
    window().click(labels::kAddReference);
    window().click(kind);
  }
  void mark(const std::vector<PhotoPoint>& points) {
    const int before = marks_of(window().see(), "reference");
    for (const PhotoPoint& point : points) window().click_photo(point);
    window().wait_until("the marks", [&](const Seen& seen) {
      return marks_of(seen, "reference") == before + static_cast<int>(points.size());
    });
  }
  std::vector<ProjectReference> saved() {
    window().key("ctrl+s");
    window().wait_until("the project to be saved", [](const Seen& seen) { return !seen.unsaved; });
    return loaded(project_).photos.at(0).references;
  }

  std::filesystem::path project_;
};

TEST_F(References, ACardIsSetOntoItsEdgesInOneStep) {
  const ProjectReference rough = saved().at(0);
  window().click(labels::kSetOntoEdges);
  window().wait_until("the corners to be found", [](const Seen& seen) { return seen.unsaved; });
  window().put_pointer_aside();
  window().screenshot("reference-6-edges");
  const ProjectReference fine = saved().at(0);
  expect_near(fine.corners, rough.corners, "corner");
  ASSERT_TRUE(fine.marks_sd_px.has_value());
  EXPECT_LT(*fine.marks_sd_px, 1.0);
  window().key("ctrl+z");
  EXPECT_EQ(saved().at(0), rough);
}

TEST_F(References, ALengthANeighbourAndATypedSizeStandInTheFile) {
  const std::vector<PhotoPoint> ends{{300.0, 700.0}, {300.0, 1200.0}};
  add(labels::kKnownLength);
  window().type_into(labels::kLength, "150");
  window().key("Return");
  window().click(labels::kBeside);
  window().click(labels::kMarkEnds);
  mark(ends);
  // The last mark is selected, so that the arrow keys nudge it.
  window().key("Right");
  window().put_pointer_aside();
  window().screenshot("reference-1-length");
  const ProjectReference length = saved().at(1);
  EXPECT_EQ(length.kind, "length");
  EXPECT_EQ(length.place, "beside");
  EXPECT_EQ(length.length_mm, 150.0);
  EXPECT_EQ(length.depth_offset_sd_mm, kDefaultDepthSdMm);
  expect_near(length.ends, ends, "end");
  window().key("ctrl+z");
  const ProjectReference before = saved().at(1);
  EXPECT_NEAR(length.ends.at(1).x_px, before.ends.at(1).x_px + 1.0, kRounding);
  EXPECT_EQ(length.ends.at(0), before.ends.at(0));

  const std::vector<PhotoPoint> rim{{3500.0, 700.0}, {3600.0, 650.0}, {3700.0, 700.0}};
  const std::vector<PhotoPoint> foot{{3600.0, 1300.0}};
  const std::vector<PhotoPoint> left{{3450.0, 900.0}, {3450.0, 1100.0}};
  const std::vector<PhotoPoint> right{{3750.0, 1000.0}};
  add(labels::kNeighbour);
  window().type_into(labels::kValue, "180");
  window().key("Return");
  window().click(labels::kRim);
  mark(rim);
  // The keys of the vessel's own marks go on with the neighbour.
  window().key("f");
  mark(foot);
  window().key("l");
  mark(left);
  window().key("t");
  mark(right);
  EXPECT_EQ(window().see().step, "Reference");
  // Half marked, it is left out and the rest is answered.
  const Seen half = window().wait_until("the figures",
                                        [](const Seen& seen) { return seen.figures == "current"; });
  EXPECT_EQ(half.figures_problem, "");
  EXPECT_GE(half.sizes.size(), 5U);
  window().put_pointer_aside();
  window().screenshot("reference-2-neighbour");
  window().key("Escape");

  add(labels::kKnownSize);
  window().click(labels::kWhichSize);
  window().click("Maximum diameter");
  window().type_into(labels::kValue, "240");
  window().key("Return");
  window().click(labels::kGuess);
  window().put_pointer_aside();
  window().screenshot("reference-3-size");

  const std::vector<ProjectReference> all = saved();
  ASSERT_EQ(all.size(), 4U);
  EXPECT_EQ(all[0], loaded(kSample).photos.at(0).references.at(0));
  EXPECT_EQ(all[2].kind, "neighbour");
  EXPECT_EQ(all[2].size, "height");
  EXPECT_EQ(all[2].value_mm, 180.0);
  expect_near(all[2].marks.rim, rim, "rim");
  expect_near(all[2].marks.base, foot, "foot");
  expect_near(all[2].marks.left, left, "left");
  expect_near(all[2].marks.right, right, "right");
  EXPECT_EQ(all[3].kind, "size");
  EXPECT_EQ(all[3].size, "max_diameter");
  EXPECT_EQ(all[3].value_mm, 240.0);
  EXPECT_TRUE(all[3].guess);
  // The vessel's own marks are as they were.
  EXPECT_EQ(loaded(project_).photos.at(0).marks, loaded(kSample).photos.at(0).marks);
}

TEST_F(References, FurtherCrossingsOfAFloorAreMarkedCountedAndTakenOut) {
  // A block of two by one tiles as if square to the view: 300 px from joint to joint.
  add(labels::kTiles);
  window().type_into(labels::kPitch, "100");
  window().key("Return");
  window().type_into(labels::kTilesAcross, "2");
  window().key("Return");
  window().click(labels::kLying);
  // The key asks for the corners first.
  window().key("x");
  window().click_photo({900.0, 600.0});
  EXPECT_THAT(window().rest().status, testing::HasSubstr("corners are not all marked yet"));
  window().click(labels::kMarkBlock);
  mark({{300.0, 900.0}, {900.0, 900.0}, {900.0, 600.0}, {300.0, 600.0}});
  const auto crossings = [&] { return saved().at(1).crossings; };
  const auto expect_crossing = [](const ProjectReference::Crossing& found, PhotoPoint at,
                                  int column, int row) {
    expect_near({found.at}, {at}, "crossing");
    EXPECT_EQ(found.column, column);
    EXPECT_EQ(found.row, row);
  };
  // By mouse: in the block's own count, near the joint being near enough.
  window().click(labels::kMarkCrossings);
  mark({{1195.0, 905.0}, {605.0, 310.0}});
  EXPECT_EQ(crossings().size(), 2U);
  expect_crossing(crossings()[0], {1195.0, 905.0}, 3, 0);
  expect_crossing(crossings()[1], {605.0, 310.0}, 1, 2);
  // One that is marked already is not marked twice.
  window().click_photo({1290.0, 960.0});  // beyond the mark's own reach
  EXPECT_THAT(window().rest().status, testing::HasSubstr("column 3, row 0 is marked already"));
  EXPECT_EQ(crossings().size(), 2U);
  window().put_pointer_aside();
  window().screenshot("reference-5-crossings");
  window().key("Escape");

  // By keys, once its numbers are typed: put in, nudged, taken out, and all of it undone.
  window().click(labels::kByNumbers);
  window().type_into(labels::kNewColumn, "4");
  window().key("Return");
  window().type_into(labels::kNewRow, "1");
  window().key("Return");
  window().click(labels::kPutIn);
  window().wait_until("the crossing",
                      [](const Seen& seen) { return marks_of(seen, "reference") == 4 + 4 + 3; });
  window().key("Right");
  ASSERT_EQ(crossings().size(), 3U);
  expect_crossing(crossings()[2], {1501.0, 600.0}, 4, 1);
  window().put_pointer_aside();
  window().screenshot("reference-6-crossing-by-numbers");
  // Its numbers can be changed where it is chosen.
  window().type_into(labels::kRow, "-1");
  window().key("Return");
  expect_crossing(crossings()[2], {1501.0, 600.0}, 4, -1);
  window().key("ctrl+z");
  expect_crossing(crossings()[2], {1501.0, 600.0}, 4, 1);
  window().click(labels::kTakeCrossingOut);
  EXPECT_EQ(crossings().size(), 2U);
  window().key("ctrl+z");
  EXPECT_EQ(crossings().size(), 3U);
  // Moved by mouse, taken out by key.
  window().drag_photo({1195.0, 905.0}, {1210.0, 890.0});
  expect_crossing(crossings()[0], {1210.0, 890.0}, 3, 0);
  window().key("Delete");
  ASSERT_EQ(crossings().size(), 2U);
  expect_crossing(crossings()[0], {605.0, 310.0}, 1, 2);
  window().key("ctrl+z");
  window().key("ctrl+z");
  expect_crossing(crossings().at(0), {1195.0, 905.0}, 3, 0);
}

TEST_F(References, TheShelfLineIsMarkedInTwoClicksAndCanBeDragged) {
  add(labels::kKnownLength);
  window().click(labels::kOnGlass);
  window().click(labels::kShelfLine);
  window().click_photo({200.0, 2400.0});
  EXPECT_EQ(marks_of(window().see(), "reference"), 4);  // one point is no line
  window().click_photo({3800.0, 2420.0});
  window().wait_until("the line",
                      [](const Seen& seen) { return marks_of(seen, "reference") == 6; });
  const std::optional<std::array<PhotoPoint, 2>> line = saved().at(1).shelf_at_glass;
  ASSERT_TRUE(line);
  expect_near({line->front(), line->back()}, {{200.0, 2400.0}, {3800.0, 2420.0}}, "line");
  window().drag_photo(line->back(), {3800.0, 2300.0});
  window().put_pointer_aside();
  window().screenshot("reference-4-shelf-line");
  const std::optional<std::array<PhotoPoint, 2>> dragged = saved().at(1).shelf_at_glass;
  ASSERT_TRUE(dragged);
  expect_near({dragged->front(), dragged->back()}, {line->front(), {3800.0, 2300.0}}, "line");
}

}  // namespace
}  // namespace potshadow::bench

// SPDX-License-Identifier: MIT
#include "desktop/canvas/trace_brush.h"

#include <gtest/gtest.h>

#include <cmath>

namespace potshadow {
namespace {

constexpr double kExact = 1e-12;  // relative: sums of a few products

ProjectTrace upright_edges() {
  ProjectTrace trace;
  trace.box = {PhotoPoint{0.0, 0.0}, PhotoPoint{400.0, 300.0}};
  trace.strokes = {{true, 20.0, {{200.0, 150.0}}}};
  for (int y = 10; y <= 290; y += 10) {
    trace.left.push_back({{100.0, static_cast<double>(y)}, 0.3});
    trace.right.push_back({{300.0, static_cast<double>(y)}, 0.3});
  }
  trace.doubtful = {{"left", "the edge is too faint here", {{100.0, 40.0}, {100.0, 80.0}}},
                    {"rim", "the edge jumps here", {{150.0, 20.0}, {250.0, 20.0}}}};
  return trace;
}

TEST(TraceBrush, DistanceIsFromTheLineNotOnlyFromItsPoints) {
  const std::vector<PhotoPoint> line{{0.0, 0.0}, {100.0, 0.0}, {100.0, 50.0}};
  EXPECT_NEAR(distance_from(line, {50.0, 7.0}), 7.0, kExact);
  EXPECT_NEAR(distance_from(line, {-3.0, 4.0}), 5.0, kExact);
  EXPECT_NEAR(distance_from(line, {103.0, 54.0}), 5.0, kExact);
  EXPECT_NEAR(distance_from({{8.0, 6.0}}, {0.0, 0.0}), 10.0, 10.0 * kExact);
  EXPECT_TRUE(std::isinf(distance_from({}, {0.0, 0.0})));
}

TEST(TraceBrush, RubbingOutTakesTheMarksUnderTheStrokeAlone) {
  const ProjectTrace before = upright_edges();
  // 30 wide: from y = 85 to 135 along the left edge, ends included.
  const ProjectTrace after = rubbed_out(before, {{104.0, 100.0}, {104.0, 120.0}}, 30.0);
  ASSERT_EQ(before.left.size(), 29u);
  EXPECT_EQ(after.left.size(), 24u);  // 90, 100, 110, 120 and 130 are gone
  for (const TracedPoint& mark : after.left) {
    EXPECT_FALSE(mark.at.y_px >= 90.0 && mark.at.y_px <= 130.0) << mark.at.y_px;
  }
  EXPECT_EQ(after.right, before.right);
  EXPECT_EQ(after.strokes, before.strokes);
  EXPECT_EQ(after.doubtful, before.doubtful);
  EXPECT_EQ(after.box, before.box);
}

TEST(TraceBrush, AStrokeBesideTheEdgesChangesNothing) {
  const ProjectTrace before = upright_edges();
  EXPECT_EQ(rubbed_out(before, {{200.0, 0.0}, {200.0, 300.0}}, 190.0), before);
  EXPECT_EQ(rubbed_out(before, {}, 1000.0), before);
}

TEST(TraceBrush, ThePointerFindsTheNearestDoubtfulStretch) {
  const ProjectTrace trace = upright_edges();
  EXPECT_EQ(doubtful_near(trace, {103.0, 60.0}, 8.0), std::optional<std::size_t>(0));
  EXPECT_EQ(doubtful_near(trace, {200.0, 26.0}, 8.0), std::optional<std::size_t>(1));
  EXPECT_EQ(doubtful_near(trace, {200.0, 30.0}, 8.0), std::nullopt);
  EXPECT_EQ(doubtful_near({}, {200.0, 20.0}, 8.0), std::nullopt);
}

TEST(TraceBrush, AStrokeKeepsPointsThatTellSomethingAndNotWithoutEnd) {
  std::vector<PhotoPoint> stroke;
  for (int i = 0; i <= 100; ++i) extend_stroke(stroke, {static_cast<double>(i), 5.0}, 40.0);
  EXPECT_EQ(stroke.size(), 11u);  // every 10 pixels
  std::vector<PhotoPoint> endless;
  for (int i = 0; i < 10000; ++i) extend_stroke(endless, {10.0 * i, 5.0}, 40.0);
  EXPECT_EQ(endless.size(), 2000u);
}

}  // namespace
}  // namespace potshadow

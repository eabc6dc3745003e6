// SPDX-License-Identifier: MIT
// The drawing of two outlines: where its lines lie.
#include "patterns/comparison.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace potshadow {
namespace {

// A cylinder of 50 mm beside one of 60 mm, both 100 mm high; the gap is 10 mm all the way, and
// beyond doubt above 50 mm only.
ComparedOutlines cylinders() {
  ComparedOutlines outlines;
  for (int i = 0; i <= 10; ++i) {
    const double height = 10.0 * i;
    outlines.original.push_back({50.0, height});
    outlines.replica.push_back({60.0, height});
    outlines.matched.push_back({55.0, height});
    outlines.gaps.push_back({height, 5.0, 2.0, 3.0, height > 50.0});
  }
  outlines.factor = 1.1;
  return outlines;
}

std::vector<PatternPath> lines_of(const Pattern& pattern, PatternLine kind) {
  std::vector<PatternPath> found;
  std::copy_if(pattern.paths.begin(), pattern.paths.end(), std::back_inserter(found),
               [&](const PatternPath& path) { return path.line == kind; });
  return found;
}

double right_of(const PatternPath& path) {
  double most = path.points.front().x_mm;
  for (const PatternPoint& p : path.points) most = std::max(most, p.x_mm);
  return most;
}

TEST(ComparisonDrawing, OutlinesAreAsWideAsTheScaleSays) {
  constexpr double kExactMm = 1e-9;
  const Pattern drawing = compared_outlines(cylinders(), 0.5);
  const auto dashed = lines_of(drawing, PatternLine::kDashed);
  ASSERT_EQ(dashed.size(), 2U);
  EXPECT_NEAR(right_of(dashed[0]), 30.0, kExactMm);
  EXPECT_NEAR(right_of(dashed[1]) - dashed[1].points.front().x_mm, 30.0, kExactMm);
  const auto solid = lines_of(drawing, PatternLine::kBold);
  ASSERT_EQ(solid.size(), 3U);  // both originals, and the gap where it is beyond doubt
  EXPECT_NEAR(right_of(solid[0]), 25.0, kExactMm);
  EXPECT_NEAR(right_of(solid[1]) - solid[1].points.front().x_mm, 27.5, kExactMm);
}

TEST(ComparisonDrawing, TheGapIsHeavyWhereItIsBeyondDoubt) {
  constexpr double kExactMm = 1e-9;
  const Pattern drawing = compared_outlines(cylinders(), 0.5);
  const PatternPath heavy = lines_of(drawing, PatternLine::kBold).back();
  // From the row before the first that differs up to the last.
  EXPECT_NEAR(heavy.points.front().y_mm, 25.0, kExactMm);
  EXPECT_NEAR(heavy.points.back().y_mm, 50.0, kExactMm);
  // All bands within 10 mm, the next round number: each 19 mm on paper.
  const PatternArea& band = drawing.areas.front();
  double left = 1e9;
  double right = -1e9;
  for (const PatternPoint& p : band.points) {
    left = std::min(left, p.x_mm);
    right = std::max(right, p.x_mm);
  }
  EXPECT_NEAR((left + right) / 2.0, heavy.points.front().x_mm, kExactMm);
  EXPECT_NEAR(right - left, 2.0 * 2.0 / 10.0 * 38.0 / 2.0, kExactMm);
}

TEST(ComparisonDrawing, KeepsToItsWidth) {
  for (const double scale : {1.0, 0.5, 0.2}) {
    const Pattern drawing = compared_outlines(cylinders(), scale);
    const PatternBox box = box_of(drawing);
    EXPECT_LE(box.right_mm, compared_width_mm(cylinders(), scale) + 1e-9);
  }
}

}  // namespace
}  // namespace potshadow

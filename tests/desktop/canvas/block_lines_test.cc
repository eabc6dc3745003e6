// SPDX-License-Identifier: MIT
#include "desktop/canvas/block_lines.h"

#include <gtest/gtest.h>

#include <vector>

namespace potshadow {
namespace {

constexpr double kRounding = 1e-9;  // of pixels: some twenty operations on numbers near 1000

// A tile floor seen by a camera 1 m above it that looks level: the point x m to the right and z m
// away lies at (500 x / z, 500 / z) pixels from the middle, by similar triangles alone.
PhotoPoint seen(double x, double z) { return {600.0 + 500.0 * x / z, 300.0 + 500.0 / z}; }

TEST(BlockLines, LieWhereTheJointsOfAFloorAre) {
  // Four columns of 0.25 m, three rows of 0.5 m, from 2 m on.
  const std::vector<PhotoPoint> corners{seen(-0.4, 2.0), seen(0.6, 2.0), seen(0.6, 3.5),
                                        seen(-0.4, 3.5)};
  const auto lines = block_lines(corners, 4, 3);
  ASSERT_EQ(lines.size(), 5U);
  const auto expect_at = [](PhotoPoint got, PhotoPoint wanted) {
    EXPECT_NEAR(got.x_px, wanted.x_px, kRounding);
    EXPECT_NEAR(got.y_px, wanted.y_px, kRounding);
  };
  int checked = 0;
  for (std::size_t i = 0; i < 3; ++i, ++checked) {
    const double x = -0.4 + 0.25 * static_cast<double>(i + 1);
    expect_at(lines[i][0], seen(x, 2.0));
    expect_at(lines[i][1], seen(x, 3.5));
  }
  for (std::size_t i = 0; i < 2; ++i, ++checked) {
    const double z = 2.0 + 0.5 * static_cast<double>(i + 1);
    expect_at(lines[3 + i][0], seen(-0.4, z));
    expect_at(lines[3 + i][1], seen(0.6, z));
  }
  EXPECT_EQ(checked, 5);
}

TEST(BlockLines, NeedFourCornersThatDoNotCross) {
  const std::vector<PhotoPoint> square{{0.0, 9.0}, {9.0, 9.0}, {9.0, 0.0}, {0.0, 0.0}};
  EXPECT_EQ(block_lines(square, 2, 2).size(), 2U);
  EXPECT_TRUE(block_lines(square, 1, 1).empty());
  EXPECT_TRUE(
      block_lines(std::vector<PhotoPoint>(square.begin(), square.begin() + 3), 2, 2).empty());
  const std::vector<PhotoPoint> crossed{square[0], square[2], square[1], square[3]};
  EXPECT_TRUE(block_lines(crossed, 2, 2).empty());
  const std::vector<PhotoPoint> flat{{0.0, 0.0}, {1.0, 0.0}, {2.0, 0.0}, {3.0, 0.0}};
  EXPECT_TRUE(block_lines(flat, 2, 2).empty());
  EXPECT_TRUE(block_lines(square, kMostTiles + 1, 2).empty());
}

TEST(Crossings, LieWhereAFloorHasThemAndAreFoundAgain) {
  const std::vector<PhotoPoint> corners{seen(-0.4, 2.0), seen(0.6, 2.0), seen(0.6, 3.5),
                                        seen(-0.4, 3.5)};
  int checked = 0;
  // The floor begins at the camera's foot, 4 rows before the block.
  for (int column = -9; column <= 12; column += 3) {
    for (int row = -3; row <= 20; ++row) {
      const PhotoPoint wanted = seen(-0.4 + 0.25 * column, 2.0 + 0.5 * row);
      const auto at = crossing_at(corners, 4, 3, {column, row});
      ASSERT_TRUE(at) << column << " " << row;
      // Rounding grows towards the camera's foot, where depth goes to nought.
      constexpr double kNearFoot = 1e-8;
      EXPECT_NEAR(at->x_px, wanted.x_px, kNearFoot);
      EXPECT_NEAR(at->y_px, wanted.y_px, kNearFoot);
      EXPECT_EQ(crossing_near(corners, 4, 3, *at), (GridPlace{column, row}));
      // Two fifths of a tile away it is still the nearest.
      EXPECT_EQ(
          crossing_near(corners, 4, 3, seen(-0.4 + 0.25 * (column + 0.4), 2.0 + 0.5 * (row - 0.4))),
          (GridPlace{column, row}));
      ++checked;
    }
  }
  EXPECT_EQ(checked, 8 * 24);
}

TEST(Crossings, AreNotSeenBeyondTheHorizon) {
  const std::vector<PhotoPoint> corners{seen(-0.4, 2.0), seen(0.6, 2.0), seen(0.6, 3.5),
                                        seen(-0.4, 3.5)};
  // The horizon of this camera is 300 pixels from the top; row -4 is the camera's own foot.
  EXPECT_FALSE(crossing_near(corners, 4, 3, {600.0, 290.0}));
  EXPECT_FALSE(crossing_near(corners, 4, 3, {600.0, 300.0}));
  EXPECT_FALSE(crossing_near(corners, 4, 3, {600.0, 300.5}));  // row 1996
  EXPECT_TRUE(crossing_near(corners, 4, 3, {600.0, 302.0}));
  EXPECT_FALSE(crossing_at(corners, 4, 3, {0, -5}));
  EXPECT_FALSE(
      crossing_at(std::vector<PhotoPoint>(corners.begin(), corners.begin() + 3), 4, 3, {}));
  EXPECT_FALSE(crossing_near({}, 4, 3, {}));
}

}  // namespace
}  // namespace potshadow

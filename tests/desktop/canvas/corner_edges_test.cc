// SPDX-License-Identifier: MIT
// Corners from points on a card's edges.
#include "desktop/canvas/corner_edges.h"

#include <gtest/gtest.h>

#include <vector>

namespace potshadow {
namespace {

constexpr double kRounding = 1e-9;  // of pixels: a few operations on numbers near 10^3

TEST(CornersOfEdges, MeetWhereTheEdgesWould) {
  // A trapezium with corners (10, 90), (110, 80), (100, 20), (20, 10); two points inside each edge.
  const std::vector<PhotoPoint> corner{{10, 90}, {110, 80}, {100, 20}, {20, 10}};
  std::vector<PhotoPoint> points;
  for (std::size_t i = 0; i < 4; ++i) {
    const PhotoPoint a = corner[i];
    const PhotoPoint b = corner[(i + 1) % 4];
    for (const double t : {0.2, 0.7}) {
      points.push_back({a.x_px + t * (b.x_px - a.x_px), a.y_px + t * (b.y_px - a.y_px)});
    }
  }
  const auto found = corners_of_edges(points);
  ASSERT_TRUE(found);
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_NEAR((*found)[i].x_px, corner[i].x_px, kRounding);
    EXPECT_NEAR((*found)[i].y_px, corner[i].y_px, kRounding);
  }
}

TEST(CornersOfEdges, NothingForEdgesThatDoNotMakeACard) {
  EXPECT_FALSE(corners_of_edges({}));
  const std::vector<PhotoPoint> parallel{{0, 0}, {9, 0}, {0, 1}, {9, 1},
                                         {0, 2}, {9, 2}, {0, 3}, {9, 3}};
  EXPECT_FALSE(corners_of_edges(parallel));
  const std::vector<PhotoPoint> same(8, PhotoPoint{5, 5});
  EXPECT_FALSE(corners_of_edges(same));
  // Lower, upper, right, left: the order crosses.
  const std::vector<PhotoPoint> crossed{{2, 9}, {8, 9}, {2, 1}, {8, 1},
                                        {9, 8}, {9, 2}, {1, 8}, {1, 2}};
  EXPECT_FALSE(corners_of_edges(crossed));
}

}  // namespace
}  // namespace potshadow

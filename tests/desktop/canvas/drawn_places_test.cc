// SPDX-License-Identifier: MIT
#include "desktop/canvas/drawn_places.h"

#include <gtest/gtest.h>

namespace potshadow {
namespace {

TEST(DrawnPlaces, OfMarksInOneSquareTheFirstIsDrawn) {
  DrawnPlaces places(10.0);
  EXPECT_TRUE(places.take(MarkKind::kRim, {101.0, 55.0}));
  EXPECT_FALSE(places.take(MarkKind::kRim, {109.0, 51.0}));
  EXPECT_TRUE(places.take(MarkKind::kRim, {111.0, 51.0}));
  EXPECT_TRUE(places.take(MarkKind::kLeft, {109.0, 51.0})) << "of another kind";
  EXPECT_TRUE(places.take(MarkKind::kRim, {-1.0, -1.0}));
  EXPECT_TRUE(places.take(MarkKind::kRim, {1.0, 1.0})) << "on the other side of the corner";
}

// However many marks a side has, some hundreds of squares hold all of them.
TEST(DrawnPlaces, ManyMarksTakeFewPlaces) {
  DrawnPlaces places(20.0);
  int drawn = 0;
  constexpr int kMarks = 10'000;
  for (int i = 0; i < kMarks; ++i) {
    drawn += places.take(MarkKind::kLeft, {1000.0, 0.3 * i}) ? 1 : 0;
  }
  EXPECT_EQ(drawn, 150);  // 3000 pixels
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Whether all that is drawn on a page can be printed.
#pragma once

#include <gtest/gtest.h>

#include <variant>

#include "sheets/drawing.h"
#include "sheets/paper.h"

namespace potshadow::test {

// Expects every place of the drawing within the margins; returns how many there were.
inline int expect_within_margins(const PageDrawing& drawing) {
  constexpr double kRoundingMm = 1e-9;
  int places = 0;
  const auto check = [&](const PagePoint& at) {
    EXPECT_GE(at.x_mm, kPageMarginMm - kRoundingMm);
    EXPECT_LE(at.x_mm, drawing.width_mm - kPageMarginMm + kRoundingMm);
    EXPECT_GE(at.y_mm, kPageMarginMm - kRoundingMm);
    EXPECT_LE(at.y_mm, drawing.height_mm - kPageMarginMm + kRoundingMm);
    ++places;
  };
  for (const DrawnGroup& group : drawing.groups) {
    for (const Drawn& drawn : group.items) {
      if (const auto* stroke = std::get_if<Stroke>(&drawn)) {
        for (const PagePoint& at : stroke->points) check(at);
      } else if (const auto* area = std::get_if<Area>(&drawn)) {
        for (const PagePoint& at : area->points) check(at);
      } else if (const auto* label = std::get_if<Label>(&drawn)) {
        check(label->at);
      }
    }
  }
  return places;
}

}  // namespace potshadow::test

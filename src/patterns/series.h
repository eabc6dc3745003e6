// SPDX-License-Identifier: MIT
// Small pictures of several pots beside each other, each over the original, and how they shrank.
#pragma once

#include <string>
#include <vector>

#include "core/units.h"
#include "patterns/pattern.h"

// Frame: y up. Each panel has the original solid and the pot dashed, both sides of the axis, all at
// one scale. A pot of which only sizes are known has a dashed line as wide
// as each, at its height. The chart of shrinkage runs from wet at the left to fired at the right.
namespace potshadow {

struct SeriesStroke {
  double height_mm = 0.0;
  double diameter_mm = 0.0;
};

struct SeriesPanel {
  std::string title;  // "Pot 1, wet"
  std::string words;  // below it; may be empty
  std::vector<ProfilePoint> outline{};
  std::vector<SeriesStroke> strokes{};   // where there is no outline
  std::vector<ProfilePoint> original{};  // below this one in place of the common one, if not empty
};

struct ShrinkagePoint {
  int stage = 0;  // 0 wet to 3 fired
  double percent = 0.0;
  double half95 = 0.0;
};

struct ShrinkageLine {
  std::string title;
  std::vector<ShrinkagePoint> points;
};

// Returns the panels in rows that are no wider than `most_width`. Requires a panel and a
// scale > 0.
Pattern series_panels(const std::vector<ProfilePoint>& original,
                      const std::vector<SeriesPanel>& panels, double scale, Mm most_width);

// Returns how wide one panel is.
double series_panel_width_mm(const std::vector<ProfilePoint>& original,
                             const std::vector<SeriesPanel>& panels, double scale);

// Returns the chart, lines told apart by their titles at their ends. Requires a line.
Pattern shrinkage_chart(const std::vector<ShrinkageLine>& lines);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Which pots are to be compared, and what can be kept of it.
#pragma once

#include <filesystem>
#include <vector>

#include "clay/linear_shrinkage.h"

namespace potshadow {

// Another pot: its project, a text of its sizes, or the one whose sizes the open project keeps.
struct OtherPot {
  std::filesystem::path file{};
  Stage stage = Stage::kFired;  // of a project's photographs; a text may say its own
  bool on_bench = false;        // the open project's, with no file
  friend bool operator==(const OtherPot&, const OtherPot&) = default;
};

// What is to be compared. Several other pots, or a text that gives one at several stages, are a
// series after the open project's pot.
struct CompareWish {
  std::vector<OtherPot> others{};    // none: nothing is compared
  bool open_is_replica = false;      // the open project's pot is, where there is one other
  Stage open_stage = Stage::kFired;  // of its photographs then
  Stage at = Stage::kFired;          // that all are compared at
  friend bool operator==(const CompareWish&, const CompareWish&) = default;
};

// The sheet as a PDF; the drawing as an SVG; as a PNG one photograph over the other, or the drawing
// of a series.
enum class ComparisonPart { kSheet, kDrawing, kPicture };

struct ComparisonFile;  // compare_works.h
struct ComparisonView;  // comparer.h

}  // namespace potshadow

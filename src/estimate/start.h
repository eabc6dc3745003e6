// SPDX-License-Identifier: MIT
// First guesses of the joint estimate, in closed form from the marks.
#pragma once

#include <vector>

#include "core/result.h"
#include "estimate/task.h"

// Internal to `estimate`. With the focal length and the lens as given: the references' poses from
// their marks, the direction of "up" from a reference or from a rim's ellipse, the rim's centre and
// the foot's front along it, and a profile from where the outline's sight lines pass the axis. How
// far the shelf is below the eye follows from one reference; all others are put in their places
// then. Each combination that holds together is one start.
namespace potshadow::internal {

// One photograph to start from.
struct StartInput {
  const PhotoInput* photo = nullptr;
  std::vector<KnownSize> sizes;  // of the vessel
  bool round_base = false;
  double hidden_mm = 0.0;  // above the shelf, below which nothing of the vessel is seen
};

struct Start {
  Setting setting;
  State state;  // with one view
};

// Returns the starts, most of them near duplicates removed. Fails with kCannotBeAnswered where none
// holds together.
Result<std::vector<Start>> starts(const StartInput& input, double focal_px,
                                  std::size_t control_count);

}  // namespace potshadow::internal

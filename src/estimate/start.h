// SPDX-License-Identifier: MIT
// First guesses of the joint estimate, in closed form from the marks.
#pragma once

#include <vector>

#include "core/result.h"
#include "estimate/solve.h"

// Internal to `estimate`. With the focal length as given and no distortion: the reference's poses
// from its corners, the direction of "up" from the reference or from the rim's ellipse, the rim's
// centre and the foot's front along it, and a profile from where the outline's sight lines pass the
// axis. Each combination that holds together is one start.
namespace potshadow::internal {

struct Start {
  Setting setting;
  State state;
};

// Returns the starts, most of them near duplicates removed. Fails with kCannotBeAnswered where none
// holds together.
Result<std::vector<Start>> starts(const EstimateInput& input, const Priors& priors, double focal_px,
                                  std::size_t control_count);

}  // namespace potshadow::internal

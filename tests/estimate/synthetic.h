// SPDX-License-Identifier: MIT
// Exact marks of an analytic vessel, by a projection written apart from the program's own.
#pragma once

#include <vector>

#include "core/units.h"
#include "estimate/input.h"

namespace potshadow::testing {

// A pinhole without distortion that looks at a point on the axis; no pane.
struct SyntheticCamera {
  double focal_35mm = 40.0;
  double distance_mm = 800.0;  // from the eye to the axis, level
  double eye_height_mm = 320.0;
  double look_at_mm = 90.0;  // height of the point in the middle of the picture
  int width_px = 2016;
  int height_px = 1512;
};

// Returns the marks that the camera sees of the vessel turned from `profile` (base first, dense),
// and of a card of 120 x 80 mm lying beside it: `rim` round the rim, `base` along the front of the
// foot, and one outline mark a side for every `stride`-th profile point whose sight line is not
// stopped by the vessel itself.
EstimateInput synthetic_input(const std::vector<ProfilePoint>& profile,
                              const SyntheticCamera& camera, std::size_t rim, std::size_t base,
                              std::size_t stride);

}  // namespace potshadow::testing

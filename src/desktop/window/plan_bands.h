// SPDX-License-Identifier: MIT
// The painted bands on the Plan step's page.
#pragma once

#include "clay/build_plan.h"
#include "desktop/window/frame.h"

namespace potshadow {

// Draws the bands of the plan as a table, and the fields of the one that is chosen.
void plan_bands(Frame& frame, const BuildPlan& plan);

}  // namespace potshadow

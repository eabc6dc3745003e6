// SPDX-License-Identifier: MIT
// A measured value times a factor that is uncertain itself; for this part only.
#pragma once

#include "core/measured.h"

namespace potshadow {

// Returns `m` times `factor`, to which the factor's own doubt adds a standard deviation `sd_part`
// and half a 95 % interval `half_part`. The two are independent, for the value comes of a
// photograph and the factor of test bars. Each half of the interval keeps its own width, so that a
// lopsided one stays lopsided.
Measured carried(const Measured& m, double factor, double sd_part, double half_part);

}  // namespace potshadow

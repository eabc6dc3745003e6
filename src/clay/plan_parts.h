// SPDX-License-Identifier: MIT
// The parts of a plan: cradle, coils, and where the wall may sag; for patterns and exports, too.
#pragma once

#include <optional>
#include <vector>

#include "clay/build_plan.h"

namespace potshadow {

// Returns the cradle whose line lies at `height`; chosen where that is absent: a quarter of the
// pot's height, or nine tenths of the way to the widest place where that is lower. Fails with
// kBadValue.
Result<Cradle> cradle_of(const Wall& wall, const Profile& profile, std::optional<double> height);

// Returns the coils from the line to the rim, each of a cross-section of pi coil^2 / 4.
std::vector<Coil> coils_of(double line_mm, const Wall& wall, double coil_mm);

// Returns where the wall above the line turns inward fastest, or nothing where it never leans
// inward.
std::optional<Sag> sag_of(const Wall& wall, double line_mm);

}  // namespace potshadow

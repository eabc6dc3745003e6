// SPDX-License-Identifier: MIT
// A photograph's marks as the estimate takes them: those of the hand and those that were traced.
#pragma once

#include "estimate/marks.h"
#include "project/project.h"

namespace potshadow {

// How near a hand's mark takes the place of traced ones on the same edge, as a part of the box's
// diagonal.
inline constexpr double kOverruleReach = 0.02;

// Returns the vessel's marks: the hand's first, then those of the trace that no mark of the hand on
// the same edge overrules.
Marks joined_marks(const ProjectPhoto& photo);

// Whether anything is marked on the vessel, by hand or by tracing.
bool has_marks(const ProjectPhoto& photo);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Another vessel that fits the marks nearly as well: one on a foot of another width.
#pragma once

#include <optional>

#include "estimate/posterior.h"
#include "estimate/solved.h"

// Internal to `estimate`. Below the lowest mark of the outline nothing but smoothness ties the wall
// to the foot. Seen from above, a wide bowl on a narrow foot and a lower bowl on a wide one can fit
// the same marks, each with a smoothness of its own, and no covariance about one of them knows of
// the other.
namespace potshadow::internal {

// Returns the vessel that is found on the way back from a foot much narrower or wider, whichever
// brings more doubt, where it is another one than `solved`. None where the foot is well known:
// `foot_doubt` is the standard uncertainty of the base's diameter over the maximum, as a part of
// that. Takes about twice as long as solved().
std::optional<Rival> rival_foot(const Solved& solved, double foot_doubt);

// Returns how far the rival is away, for each free unknown, times the root of its weight: by so
// much the unknowns are in doubt, about the vessel that was found. Zero for what belongs to
// references.
Posterior::Gradient doubt_of_rival(const Rival& rival, const Linear& linear);

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// How the vessel departs from a body of revolution: oval, leaning, one side unlike the other.
#pragma once

#include <optional>
#include <vector>

#include "estimate/answer.h"
#include "estimate/posterior.h"
#include "estimate/predicted.h"

// Internal to `estimate`. The model is symmetric, so what left and right outlines have in common
// goes into the profile and what they have not is left in the misfits: both outlines shifted the
// same way. A shift that grows with the height is a lean; the rest is unevenness. The lean that the
// fit itself found, of the axis against the shelf, counts with it.
namespace potshadow::internal {

// Returns how the outlines of the first photograph that shows both sides differ, or none. `all` as
// of misfits.
std::optional<Uneven> uneven_of(const Task& task, const State& state, const Posterior& posterior,
                                const std::vector<Misfit>& all);

// Returns how far out of round the body is, or none where it was seen from fewer than three
// directions.
std::optional<OutOfRound> out_of_round_of(const Task& task, const State& state,
                                          const Posterior& posterior);

}  // namespace potshadow::internal

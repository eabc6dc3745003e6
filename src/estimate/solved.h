// SPDX-License-Identifier: MIT
// The vessel that fits the marks best, from the marks alone.
#pragma once

#include <optional>

#include "core/result.h"
#include "estimate/solve.h"
#include "estimate/wild.h"

// Internal to `estimate`. Each photograph's starts are tried alone, with few control points and
// some of the marks; the best of each go together. Then all marks count, at first as rough ones,
// with the full profile and a smoothness that is chosen from the data; marks too far off for chance
// are left out.
namespace potshadow::internal {

// Another vessel that fits the marks nearly as well as the one found (rival.h).
struct Rival {
  State found;  // the one that it was found beside
  State other;
  double weight = 0.0;  // its share of what is likely, 0 to 1
};

// A vessel that fits the marks, with what it was fitted by. The task points into its input.
struct Solved {
  Task task;
  State state;
  Smoothnesses smoothness;
  std::optional<Rival> rival{};
};

// Returns the solution. `input` must outlive it. Fails with kCannotBeAnswered.
Result<Solved> solved(const EstimateInput& input);

// Returns the solution found from that of nearly the same marks, or none where it leads nowhere or
// other marks are to be left out there.
std::optional<Solved> solved_nearby(const EstimateInput& input, const Solved& before);

// Returns the solution of an input drawn about the one of `before`: with the same smoothness, and
// the same marks left out. None where it leads nowhere, or to a cost above `most_cost`. Takes a
// fifth of the time of estimate_nearby().
std::optional<State> solved_redrawn(const EstimateInput& input, const Solved& before,
                                    double most_cost);

}  // namespace potshadow::internal

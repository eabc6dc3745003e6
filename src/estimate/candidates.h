// SPDX-License-Identifier: MIT
// First solutions of the joint estimate, with few control points and some of the marks.
#pragma once

#include <vector>

#include "core/result.h"
#include "estimate/task.h"

// Internal to `estimate`. Each photograph's starts (start.h) are tried alone, and the best of each
// go together. Where nothing but one known size gives the scale, the picture is the same at any
// scale but for the pane: the shape is then found with the widest diameter held, and the vessel
// brought to its size once that is done.
namespace potshadow::internal {

struct Candidate {
  Task task;
  State state;
  double cost = 0.0;
};

// Returns the best candidate of all photographs together. Where a single photograph's rim is seen
// so nearly level that it may as well be seen from its other side, that follows as a second one.
// `input` must outlive them. Fails with kCannotBeAnswered.
Result<std::vector<Candidate>> together(const EstimateInput& input);

// Puts into the task what bounds an end that is not seen, from where the outline is seen to end;
// nothing where both ends are seen.
void bound_ends(const State& state, Task& task);

// Brings a vessel that was held at some scale to its one known size; returns whether it was.
bool bring_to_size(Task& task, State& state);

Problem not_settled(const char* detail);

}  // namespace potshadow::internal

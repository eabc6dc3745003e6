// SPDX-License-Identifier: MIT
// What the answer says of a solved vessel: sizes, proportions, profile and cameras with intervals.
#pragma once

#include <utility>
#include <vector>

#include "estimate/answer.h"
#include "estimate/posterior.h"
#include "estimate/state.h"
#include "estimate/task.h"
#include "vessel/profile.h"

// Internal to `estimate`. Each size is read by size_reader.h, its variance and budget taken from
// the posterior; to these add what does not come of the estimate: the wall's thickness, and what is
// hidden.
namespace potshadow::internal {

// Returns how each size that the answer states moves with the unknowns, the wall's thickness apart.
std::vector<std::pair<SizeName, Posterior::Gradient>> size_gradients(const Task& task,
                                                                     const State& state,
                                                                     const Profile& profile,
                                                                     const Posterior& posterior);

// Returns the answer's sizes, proportions, rows and camera from a solved task. `inflation` >= 1
// multiplies the standard deviations that the marks bring.
Answer answer_of(const Task& task, const State& state, const Profile& profile,
                 const Posterior& posterior, double inflation);

}  // namespace potshadow::internal

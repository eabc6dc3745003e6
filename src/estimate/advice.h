// SPDX-License-Identifier: MIT
// What would narrow the intervals most, and by how much.
#pragma once

#include <vector>

#include "estimate/answer.h"
#include "estimate/posterior.h"
#include "estimate/task.h"

// Internal to `estimate`. Everything that someone could do changes the problem in a known way: a
// prior becomes narrower, marks become more precise, or there is a second photograph with unknowns
// of its own. To first order the interval then is that of the problem so changed, at the same
// solution. Source: JCGM 100:2008, 5.1 (first-order propagation), applied before the measurement.
namespace potshadow::internal {

// Returns the advice on the size that is known worst of height and diameters, as a part of itself;
// best first, and only what narrows it by a tenth or more. `inflation` as in answer_of.
std::vector<Advice> advice_on(const Task& task, const State& state, const Profile& profile,
                              const Posterior& posterior, double inflation, const Answer& answer);

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// Marks so far off that no chance explains them, and which the estimate leaves out.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "estimate/solve.h"

// Internal to `estimate`. A mark's misfit is compared with what its own pull on the fit leaves of
// it: with the leverage h of its row, misfit / (sd sqrt(1 - h)) is standard normal where all is as
// stated (the studentised residual). Where the marks on the whole scatter more than stated, the
// median of those figures sets their scale, so that coarse marks are not called wild. Leaving out
// is a loss that grows no more beyond the limit; clean marks are fitted as if there were none.
namespace potshadow::internal {

// One entry a mark of the task, true where it is to be left out.
using WildMarks = std::vector<bool>;

// Returns the marks of the vessel to leave out, judged at a solution of the task: of those in use
// the worst, and of those left out so far the ones that still are far off. None where so many are
// far off, or so few would be left, that the fault must lie elsewhere.
std::optional<WildMarks> wild_marks(const Task& task, const State& state, const Linear& linear);

// Returns other choices of marks to leave out: for each outline mark that is left out, the mark of
// the other side at the same place of the profile in its stead. Two sides that disagree do not say
// which is wrong.
std::vector<WildMarks> mirrored(const Task& task, const State& state);

// Returns the input without these marks; `wild` in the order of mark_refs, photograph by
// photograph.
EstimateInput without(const EstimateInput& input, const WildMarks& wild);

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// Whether all that says how big things are, and all photographs, can be true together.
#pragma once

#include <optional>
#include <string>

#include "core/result.h"
#include "estimate/answer.h"
#include "estimate/input.h"
#include "estimate/solved.h"

// Internal to `estimate`. Each reference is judged by what an estimate without it says. Slow where
// something is amiss: some estimates for each suspect.
namespace potshadow::internal {

// Returns the sentences on the reference that disagrees most with all the rest: both readings, and
// the likeliest reason; none where nothing does, or where there is no rest. Only those are judged
// without which the joint solution would move farther than chance allows; all of them where no
// solution is given.
std::optional<std::string> worst_disagreement(const EstimateInput& input, const Solved* joint);

// Returns what keeps any vessel from fitting: photographs of different vessels, or references that
// disagree; none where neither does.
std::optional<Problem> why_nothing_fits(const EstimateInput& input);

// Returns the problem that photographs show vessels of different proportions, with the evidence;
// none where they may show the same, or where `joint`, their joint answer, fits well.
std::optional<Problem> different_vessels(const EstimateInput& input, const Answer& joint);

}  // namespace potshadow::internal

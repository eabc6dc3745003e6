// SPDX-License-Identifier: MIT
// The findings of the steps from the sizes on: what the pot is made by, and held against.
#pragma once

#include <optional>

#include "desktop/words/step_finding.h"

// For steps.cc.
namespace potshadow::internal {

// The first step before the one in question that misses something; nothing where none does.
using MissingStep = std::optional<StepFinding>;

StepFinding sizes_finding(const WorkState& work, const MissingStep& missing);
StepFinding clay_finding(const Document& document, const WorkState& work);
// `before` is that of the plan, on which all three hang alike.
StepFinding plan_finding(const WorkState& work, const MissingStep& before);
StepFinding templates_finding(const WorkState& work, const MissingStep& before);
StepFinding check_finding(const Document& document, const WorkState& work,
                          const MissingStep& before);
StepFinding compare_finding(const Document& document, const WorkState& work);

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// The findings of the steps in which a photograph is chosen and marked.
#pragma once

#include "desktop/words/step_finding.h"

// For steps.cc.
namespace potshadow::internal {

StepFinding photo_finding(const Document& document, const WorkState& work);
StepFinding reference_finding(const Document& document, const WorkState& work);
StepFinding outline_finding(const Document& document, const WorkState& work);

}  // namespace potshadow::internal

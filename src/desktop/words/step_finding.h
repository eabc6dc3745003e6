// SPDX-License-Identifier: MIT
// How far a step has come and what to do next in it: what the steps' findings have in common.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "desktop/document/document.h"
#include "desktop/words/steps.h"

// For steps.cc and the findings of the steps alone.
namespace potshadow::internal {

struct StepFinding {
  StepState state = StepState::kMissing;
  std::string reason;
  std::string next;
};

// Returns the index of the photograph that is worked on.
std::size_t shown_index(const Document& document, const WorkState& work);
// Returns that photograph; null where there is none.
const ProjectPhoto* photo_of(const Document& document, const WorkState& work);
// Returns the measurement where it is of this document, else null.
const Measurement* current_measurement(const WorkState& work);
// Returns what the sizes hang on; nothing where there are none of this document.
std::optional<ScaleSource> scale_of(const WorkState& work);

// Returns what is said where there is no photograph.
StepFinding no_photo_finding();

}  // namespace potshadow::internal

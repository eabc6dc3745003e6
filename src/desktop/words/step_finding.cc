// SPDX-License-Identifier: MIT
#include "desktop/words/step_finding.h"

namespace potshadow::internal {

std::size_t shown_index(const Document& document, const WorkState& work) {
  return work.photo ? *work.photo : working_photo(document);
}

const ProjectPhoto* photo_of(const Document& document, const WorkState& work) {
  const std::size_t index = shown_index(document, work);
  return index < document.photos.size() ? &document.photos[index] : nullptr;
}

const Measurement* current_measurement(const WorkState& work) {
  return work.current ? work.measurement : nullptr;
}

std::optional<ScaleSource> scale_of(const WorkState& work) {
  const Measurement* measurement = current_measurement(work);
  if (measurement == nullptr) return std::nullopt;
  return measurement->answer.scale;
}

StepFinding no_photo_finding() {
  return {StepState::kMissing, "There is no photograph yet.",
          "Open a photograph, or drop it on the window."};
}

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
#include "desktop/words/steps.h"

#include <array>
#include <optional>
#include <utility>

#include "desktop/document/shown_photo.h"
#include "desktop/words/making_findings.h"
#include "desktop/words/marking_findings.h"

namespace potshadow {
namespace {

internal::StepFinding finding_of(Step step, const Document& document, const WorkState& work);

// The first step before `step` that misses something.
std::optional<internal::StepFinding> missing_before(Step step, const Document& document,
                                                    const WorkState& work) {
  for (const Step before : kSteps) {
    if (before == step) break;
    internal::StepFinding finding = finding_of(before, document, work);
    if (finding.state == StepState::kMissing) return finding;
  }
  return std::nullopt;
}

internal::StepFinding finding_of(Step step, const Document& document, const WorkState& work) {
  switch (step) {
    case Step::kPhoto:
      return internal::photo_finding(document, work);
    case Step::kReference:
      return internal::reference_finding(document, work);
    case Step::kOutline:
      return internal::outline_finding(document, work);
    case Step::kSizes:
      return internal::sizes_finding(work, missing_before(step, document, work));
    case Step::kClay:
      return internal::clay_finding(document, work);
    case Step::kPlan:
      return internal::plan_finding(work, missing_before(Step::kPlan, document, work));
    case Step::kTemplates:
      return internal::templates_finding(work, missing_before(Step::kPlan, document, work));
    case Step::kCheck:
      return internal::check_finding(document, work, missing_before(Step::kPlan, document, work));
    case Step::kCompare:
      break;
  }
  return internal::compare_finding(document, work);
}

}  // namespace

std::string_view step_title(Step step) {
  constexpr std::array<std::string_view, kStepCount> kTitles{
      "Photo", "Reference", "Outline", "Sizes", "Clay", "Plan", "Templates", "Check", "Compare"};
  return kTitles.at(static_cast<std::size_t>(step));
}

bool has_page(Step step) { return step > Step::kSizes; }

std::string_view step_opening(Step step) {
  constexpr std::array<std::string_view, kStepCount> kOpenings{
      "Open the photograph as the camera made it. Its lens and its whole frame tell how the pot "
      "was seen, and so how it must be drawn.",
      "Mark something whose size you know, and say where it is. It is all that tells how many "
      "millimetres the pot has.",
      "Drag a box round the vessel, or mark its rim, foot and sides by hand. The closer the marks "
      "follow the pot, the closer your template will.",
      "See whether the drawn vessel sits on the pot, then read its sizes. Each ± says how far you "
      "may trust the figure before you cut clay by it.",
      "Say how much your clay shrinks, by the test bars in your book or by a figure. The pot is "
      "made larger by that much, so that it fires to the original's size.",
      "Choose wall and coils, and see how to build it: the cradle, coil after coil, and the clay "
      "and water to weigh out.",
      "Print the card at true size and hold it against the wet pot, while the form can still be "
      "put right.",
      "Type what calipers and tape say of the pot in front of you. It is held against what it must "
      "be at its stage, while it can still be changed.",
      "Hold the replica against the original, both measured from photographs. What differs beyond "
      "doubt, in size or in shape, is what the next pot should change."};
  return kOpenings.at(static_cast<std::size_t>(step));
}

std::string_view step_state_words(StepState state) {
  switch (state) {
    case StepState::kDone:
      return "done";
    case StepState::kMissing:
      return "missing";
    case StepState::kDoubtful:
      break;
  }
  return "doubtful";
}

StepStatus step_status(Step step, const Document& document, const WorkState& work) {
  internal::StepFinding finding = finding_of(step, document, work);
  return {finding.state, std::move(finding.reason)};
}

std::string next_action(Step step, const Document& document, const WorkState& work) {
  return finding_of(step, document, work).next;
}

Step step_due(const Document& document, const WorkState& work) {
  for (const Step step : kSteps) {
    if (step == Step::kCheck) break;
    if (finding_of(step, document, work).state == StepState::kMissing) return step;
  }
  return Step::kTemplates;
}

std::size_t working_photo(const Document& document) { return measured_photo(document).value_or(0); }

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The steps of the work in their order: what each asks for, and how far it has come.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "core/text.h"
#include "desktop/document/document.h"
#include "photo/probe.h"
#include "project/bench_report.h"
#include "project/measure.h"

// A step is done when the next one can go on from it, missing while something must still be given,
// and doubtful when it gives an answer that should be looked at. Photo and Outline are about the
// photograph that is shown, the other steps about all of them together.
namespace potshadow {

struct PotSeries;
struct VesselComparison;

enum class Step {
  kPhoto,
  kReference,
  kOutline,
  kSizes,
  kClay,
  kPlan,
  kTemplates,
  kCheck,
  kCompare
};
inline constexpr std::size_t kStepCount = 9;
inline constexpr std::array<Step, kStepCount> kSteps{
    Step::kPhoto, Step::kReference, Step::kOutline, Step::kSizes,  Step::kClay,
    Step::kPlan,  Step::kTemplates, Step::kCheck,   Step::kCompare};

enum class StepState { kDone, kMissing, kDoubtful };

struct StepStatus {
  StepState state = StepState::kMissing;
  std::string reason;  // one sentence, never empty
};

// What has been found out beyond the document. Null where there is none; nothing is kept.
struct WorkState {
  const PhotoFacts* facts = nullptr;             // of the photograph that is shown
  std::optional<std::size_t> photo{};            // which one that is; else working_photo()
  const Problem* photo_problem = nullptr;        // missing, changed, unreadable
  const Measurement* measurement = nullptr;      // the last good one
  bool current = false;                          // it is that of this document
  const Problem* figures_problem = nullptr;      // why there is none for this document
  const Problem* template_problem = nullptr;     // why there is no template
  const Problem* plan_problem = nullptr;         // why there is no building plan
  const BenchAnswer* check = nullptr;            // the pot on the bench
  const Problem* check_problem = nullptr;        // why there is no verdict, though it was measured
  const VesselComparison* comparison = nullptr;  // with the other pot
  const PotSeries* series = nullptr;             // with several
  const Problem* comparison_problem = nullptr;   // why there is none, though it was chosen
  const ProjectClayFigures* clay = nullptr;      // what is known of the document's clay
  const Problem* clay_problem = nullptr;         // why nothing is, though it names one
  const std::vector<Note>* clay_notes = nullptr;
  LengthUnit unit = LengthUnit::kMm;  // of lengths in the words
};

// Returns "Photo", "Reference", "Outline", "Sizes", "Clay", "Plan", "Templates", "Check" or
// "Compare".
std::string_view step_title(Step step);
// Returns whether the step shows a page of its own in place of the photograph.
bool has_page(Step step);
// Returns what to do in the step and why it matters for the pot: one or two sentences.
std::string_view step_opening(Step step);
// Returns "done", "missing" or "doubtful", for those who do not see the ring's colour.
std::string_view step_state_words(StepState state);

// Returns how far the step has come and why.
StepStatus step_status(Step step, const Document& document, const WorkState& work);

// Returns the one useful next thing to do in the step, as an order: "Mark at least 2 more points on
// the rim." Never empty.
std::string next_action(Step step, const Document& document, const WorkState& work);

// Returns the first step that misses something; kTemplates where none of those before the check
// does.
Step step_due(const Document& document, const WorkState& work);

// Returns the index of the first photograph with marks, else 0.
std::size_t working_photo(const Document& document);

}  // namespace potshadow

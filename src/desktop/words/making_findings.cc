// SPDX-License-Identifier: MIT
#include "desktop/words/making_findings.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/typed_number.h"
#include "desktop/words/check_words.h"
#include "desktop/words/clay_book_words.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/figures_words.h"
#include "project/compare_series.h"

namespace potshadow::internal {
namespace {

constexpr const char* kGiveASize =
    "Mark a thing of known size in the Reference step, or give one size there, known or guessed.";

std::string size_reason(const Measurement& measurement, LengthUnit unit) {
  std::string text;
  for (const FigureRow& row : figure_rows(measurement, unit)) {
    if (row.name != SizeName::kHeight && row.name != SizeName::kMaxDiameter) continue;
    const std::string label = row.name == SizeName::kHeight ? "Height " : ", maximum ";
    text += label + row.value + " ± " + row.plus_minus + " " + row.unit;
  }
  return with_large_start(text) + ".";
}

// A clay of the book.
StepFinding booked_finding(const WorkState& work) {
  if (work.clay_problem != nullptr) {
    const Problem words = clay_problem_words(*work.clay_problem);
    return {StepState::kMissing, words.what, words.next};
  }
  if (work.clay == nullptr) {
    return {StepState::kMissing, "The clay is not in the book.", "Choose one from the list."};
  }
  std::string reason = project_clay_sentence(*work.clay);
  const FigureSource source = work.clay->figures.total.source;
  if (source == FigureSource::kMix || source == FigureSource::kHandbook) {
    return {StepState::kDoubtful, std::move(reason),
            "Make three test bars of it, and write them into the book."};
  }
  for (const Note& note : work.clay_notes == nullptr ? std::vector<Note>() : *work.clay_notes) {
    if (note.doubtful) return {StepState::kDoubtful, note.text, "Look at its bars in the book."};
  }
  return {StepState::kDone, std::move(reason), "Go on to the plan."};
}

// What plan, templates and check need before there can be any; nothing where all is there.
std::optional<StepFinding> undrawable(const std::string& what, const WorkState& work,
                                      const MissingStep& before) {
  if (before) {
    return StepFinding{StepState::kMissing, what + " comes once the sizes and the clay are there.",
                       before->next};
  }
  if (scale_of(work) == ScaleSource::kNone) {
    return StepFinding{StepState::kMissing, what + " needs one size, and nothing gives it yet.",
                       kGiveASize};
  }
  if (work.figures_problem != nullptr) {
    return StepFinding{StepState::kMissing, what + " waits for sizes of the marks as they are now.",
                       work.figures_problem->next};
  }
  return std::nullopt;
}

}  // namespace

StepFinding sizes_finding(const WorkState& work, const MissingStep& missing) {
  if (missing && scale_of(work) != ScaleSource::kNone) {
    return {StepState::kMissing, "The sizes come once reference and outline are marked.",
            missing->next};
  }
  if (work.figures_problem != nullptr) {
    const bool old = work.measurement != nullptr;
    return {old ? StepState::kDoubtful : StepState::kMissing, work.figures_problem->what,
            work.figures_problem->next};
  }
  if (work.measurement == nullptr) {
    return {StepState::kMissing, "The sizes are being worked out.", "Wait a moment."};
  }
  const Answer& answer = work.measurement->answer;
  if (answer.scale == ScaleSource::kNone) {
    return {StepState::kDoubtful, "There are proportions only: nothing says how big the vessel is.",
            kGiveASize};
  }
  if (answer.scale == ScaleSource::kGuess) {
    return {StepState::kDoubtful, "All sizes hang on a guess.",
            "Find something that says how big the vessel is before you make it."};
  }
  for (const FigureRow& row : figure_rows(*work.measurement, work.unit)) {
    if (!row.leading || !row.doubtful) continue;
    const LimitRow limit = limit_rows(answer)[static_cast<std::size_t>(
        std::find_if(answer.sizes.begin(), answer.sizes.end(),
                     [&](const MeasuredSize& size) { return size.name == row.name; }) -
        answer.sizes.begin())];
    return {StepState::kDoubtful, row.label + ": " + with_small_start(row.doubt), limit.advice};
  }
  const auto doubtful = std::find_if(answer.notes.begin(), answer.notes.end(),
                                     [](const Note& note) { return note.doubtful; });
  if (doubtful != answer.notes.end()) {
    return {StepState::kDoubtful, doubtful->text, "Read the notes under the sizes."};
  }
  return {StepState::kDone, size_reason(*work.measurement, work.unit),
          "Check that the drawn vessel sits on the pot, then go on to the clay."};
}

StepFinding clay_finding(const Document& document, const WorkState& work) {
  const std::string type_it =
      "Choose a clay from the book, or type its shrinkage in percent of the wet length.";
  if (document.clay && !document.clay->record.empty() && !document.clay->shrinkage_percent) {
    return booked_finding(work);
  }
  if (!document.clay || !document.clay->shrinkage_percent) {
    return {StepState::kMissing, "The clay's shrinkage is not given yet.", type_it};
  }
  const ProjectClay& clay = *document.clay;
  const Result<TotalShrinkage> shrinkage =
      TotalShrinkage::from_percent_of_wet(*clay.shrinkage_percent, clay.shrinkage_sd_percent);
  if (!shrinkage) return {StepState::kMissing, shrinkage.problem().what, type_it};
  const std::string go_on = "Go on to the templates.";
  if (shrinkage->fraction_of_wet() == 0.0) {
    return {StepState::kDone, "No shrinkage: the sizes are the original's own.", go_on};
  }
  if (!(clay.shrinkage_sd_percent > 0.0)) {
    return {StepState::kDoubtful, "The shrinkage counts as exact, which no clay's is.",
            "Type how sure you are of it; test bars of one batch give about 0.5."};
  }
  const std::string name = clay.name.empty() ? "The clay" : clay.name;
  return {StepState::kDone,
          name + " shrinks by " + fixed_text(*clay.shrinkage_percent, 1) + " ± " +
              fixed_text(kNormal95 * clay.shrinkage_sd_percent, 1) + " % of its wet length.",
          go_on};
}

StepFinding plan_finding(const WorkState& work, const MissingStep& before) {
  if (auto missing = undrawable("The plan", work, before)) return *missing;
  if (work.plan_problem != nullptr) {
    return {StepState::kDoubtful, work.plan_problem->what, work.plan_problem->next};
  }
  if (scale_of(work) == ScaleSource::kGuess) {
    return {StepState::kDoubtful, "The plan is as large as the guess makes it.",
            "Find something that says how big the vessel is before you weigh out clay."};
  }
  return {StepState::kDone, "The plan says what to weigh out and to roll.",
          "Read it through, then print the templates."};
}

StepFinding templates_finding(const WorkState& work, const MissingStep& before) {
  if (auto missing = undrawable("The template", work, before)) return *missing;
  if (work.template_problem != nullptr) {
    return {StepState::kDoubtful, work.template_problem->what, work.template_problem->next};
  }
  if (scale_of(work) == ScaleSource::kGuess) {
    return {StepState::kDoubtful, "The template is as large as the guess makes it.",
            "Find something that says how big the vessel is before you cut clay by it."};
  }
  return {StepState::kDone, "The template can be saved and printed.",
          "Save the template, print it at 100 % and check its bars with a ruler."};
}

// The pot on the bench. Nothing measured yet misses nothing that a template needs.
StepFinding check_finding(const Document& document, const WorkState& work,
                          const MissingStep& before) {
  if (auto missing = undrawable("The check", work, before)) return *missing;
  const bool any = std::any_of(document.bench.begin(), document.bench.end(),
                               [](const ProjectBench& bench) { return !bench.sizes.empty(); });
  if (!any) {
    return {StepState::kMissing, "Nothing of the pot on the bench has been measured yet.",
            "Measure one diameter or more on the wet pot, and type it."};
  }
  if (work.check_problem != nullptr) {
    return {StepState::kDoubtful, work.check_problem->what, work.check_problem->next};
  }
  if (work.check != nullptr && work.check->check.first) {
    return {StepState::kDoubtful, pot_sentence(*work.check), "Correct it, and measure again."};
  }
  if (work.check != nullptr && has_size_off(*work.check)) {
    return {StepState::kDoubtful, pot_sentence(*work.check), "Make the next one by what it shows."};
  }
  return {StepState::kDone,
          work.check == nullptr ? "The pot has been measured." : pot_sentence(*work.check),
          "Measure again at the next stage."};
}

StepFinding compare_finding(const Document& document, const WorkState& work) {
  if (document.photos.empty()) return no_photo_finding();
  if (work.comparison_problem != nullptr) {
    return {StepState::kDoubtful, work.comparison_problem->what, work.comparison_problem->next};
  }
  if (work.series != nullptr) {
    return {StepState::kDone,
            std::to_string(work.series->pots.size()) +
                (work.series->pots.size() == 1 ? " pot is" : " pots are") + " held against " +
                work.series->original + ".",
            "Make the next one by what they really did."};
  }
  if (work.comparison == nullptr) {
    return {StepState::kMissing, "No other pot has been chosen to compare with.",
            "Choose the project of the other pot's photographs."};
  }
  return {StepState::kDone,
          work.comparison->replica + " is held against " + work.comparison->original + ".",
          "Read what differs beyond doubt, and make the next one by that."};
}

}  // namespace potshadow::internal

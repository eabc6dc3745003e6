// SPDX-License-Identifier: MIT
#include "desktop/words/steps.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "core/typed_number.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/figures_words.h"
#include "desktop/words/outline_words.h"
#include "desktop/words/photo_words.h"
#include "desktop/words/reference_words.h"

namespace potshadow {
namespace {

// How far a step has come, and what to do next in it.
struct Finding {
  StepState state = StepState::kMissing;
  std::string reason;
  std::string next;
};

const ProjectPhoto* photo_of(const Document& document) {
  const std::size_t index = working_photo(document);
  return index < document.photos.size() ? &document.photos[index] : nullptr;
}

const Measurement* current_measurement(const WorkState& work) {
  return work.current ? work.measurement : nullptr;
}

constexpr const char* kNoPhoto = "There is no photograph yet.";
constexpr const char* kOpenPhoto = "Open a photograph, or drop it on the window.";

// --- Photo
// ----------------------------------------------------------------------------------------

Finding photo_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document);
  if (photo == nullptr) return {StepState::kMissing, kNoPhoto, kOpenPhoto};
  if (work.photo_problem != nullptr) {
    // With the picture's size on record its marks can be measured without it.
    const bool recorded = photo->record.width_px && photo->record.height_px;
    return {recorded ? StepState::kDoubtful : StepState::kMissing, work.photo_problem->what,
            work.photo_problem->next};
  }
  const std::string go_on = "Go on to the reference.";
  if (work.facts == nullptr) return {StepState::kDone, "The photograph is chosen.", go_on};
  const PhotoFacts& facts = *work.facts;
  if (photo->cropped) {
    return {StepState::kDoubtful, "The picture is cropped, so the middle of the frame is lost.",
            "Use the whole picture if you still have it."};
  }
  if (!photo->focal_35mm && !facts.focal) {
    return {StepState::kDoubtful, "The lens's focal length is not known.",
            "Type the focal length as on 35 mm film, if you can find it out."};
  }
  const double focal = photo->focal_35mm ? *photo->focal_35mm : facts.focal->focal_35mm;
  return {StepState::kDone,
          "Taken with a lens like " + typed_text(focal, 1) + " mm, " +
              megapixels_text(facts.width_px, facts.height_px) + ".",
          go_on};
}

// --- Reference
// ------------------------------------------------------------------------------------

// Whether what was typed of a distance is taken as exact, though nothing can be measured so.
bool place_taken_as_exact(const ProjectReference& reference) {
  if (reference.place == "on-glass") return !(reference.glass_to_axis_sd_mm > 0.0);
  return reference.riser_mm != 0.0 && !(reference.riser_sd_mm > 0.0);
}

const Whisker* doubtful_whisker(const WorkState& work, bool of_reference) {
  const Measurement* measurement = current_measurement(work);
  if (measurement == nullptr) return nullptr;
  const std::vector<Whisker>& whiskers = measurement->answer.photos.front().overlay.whiskers;
  const Whisker* worst = nullptr;
  for (const Whisker& whisker : whiskers) {
    if (!whisker.doubtful || (whisker.mark.kind == MarkKind::kReference) != of_reference) continue;
    if (worst == nullptr || whisker.off_sd > worst->off_sd) worst = &whisker;
  }
  return worst;
}

Finding whisker_finding(const Document& document, const Whisker& whisker) {
  const std::string mark =
      with_large_start(mark_words(document, {working_photo(document), whisker.mark}));
  return {StepState::kDoubtful,
          mark + " lies " + fixed_text(whisker.off_sd, 1) + " times as far off as marking allows.",
          "Look at it again: move it to its place, or take it out."};
}

std::string place_title(const ProjectReference& reference) {
  const std::optional<Place> place = place_of_key(reference.place);
  return place ? with_small_start(place_words(*place).title) : "place not given";
}

Finding reference_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document);
  if (photo == nullptr) return {StepState::kMissing, kNoPhoto, kOpenPhoto};
  if (photo->references.empty()) {
    return {StepState::kMissing, "There is no thing of known size yet.",
            "Choose a thing of known size that is in the picture, such as the label."};
  }
  const ProjectReference* usable = nullptr;
  std::optional<Finding> unusable;
  std::size_t usable_count = 0;
  for (std::size_t i = 0; i < photo->references.size(); ++i) {
    const ProjectReference& reference = photo->references[i];
    const std::vector<std::string> missing = reference_missing(reference);
    if (missing.empty()) {
      if (usable == nullptr) usable = &reference;
      ++usable_count;
    } else if (!unusable) {
      unusable =
          Finding{StepState::kMissing,
                  "Reference " + std::to_string(i + 1) + " cannot be used yet.", missing.front()};
    }
  }
  if (unusable) {
    if (usable_count > 0) unusable->state = StepState::kDoubtful;
    return *unusable;
  }
  for (const ProjectReference& reference : photo->references) {
    if (!place_taken_as_exact(reference)) continue;
    return {StepState::kDoubtful,
            reference.place == "on-glass" ? "The distance from the glass counts as exact."
                                          : "The height of the riser counts as exact.",
            "Type how sure you are of it, for no one measures it without doubt."};
  }
  if (const Whisker* whisker = doubtful_whisker(work, true)) {
    return whisker_finding(document, *whisker);
  }
  if (usable_count > 1) {
    return {StepState::kDone, std::to_string(usable_count) + " references are in use.",
            "Go on to the outline."};
  }
  return {
      StepState::kDone,
      with_large_start(reference_size_text(*usable, work.unit)) + ", " + place_title(*usable) + ".",
      "Go on to the outline."};
}

// --- Outline
// --------------------------------------------------------------------------------------

Finding outline_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document);
  if (photo == nullptr) return {StepState::kMissing, kNoPhoto, kOpenPhoto};
  const ProjectMarks& marks = photo->marks;
  const auto wanting = [&](MarkKind kind) {
    return marks_wanting(kind, marks, document.round_base);
  };
  struct Part {
    MarkKind kind;
    const char* reason;
    const char* where;
  };
  constexpr std::array<Part, 3> kParts{
      {{MarkKind::kRim, "The rim has too few marks.", "on the rim"},
       {MarkKind::kBase, "The foot has too few marks.", "on the front of the foot"},
       {MarkKind::kLeft, "The sides have too few marks.", "down the left and right sides"}}};
  const bool none =
      marks.rim.empty() && marks.base.empty() && marks.left.empty() && marks.right.empty();
  for (const Part& part : kParts) {
    const std::size_t count = wanting(part.kind);
    if (count == 0) continue;
    const MarkKindWords words = mark_kind_words(part.kind, document.round_base);
    const bool more = count < words.least;
    return {StepState::kMissing, none ? "The vessel is not marked yet." : part.reason,
            "Mark at least " +
                counted(count, more ? "more point" : "point", more ? "more points" : "points") +
                " " + part.where + "."};
  }
  if (marks.left.empty() || marks.right.empty()) {
    const std::string side = marks.left.empty() ? "left" : "right";
    return {StepState::kDoubtful, "The " + side + " side has no marks.",
            "Mark the " + side + " side too, unless it is hidden."};
  }
  if (work.figures_problem != nullptr && work.figures_problem->code == Code::kBadMarks) {
    return {StepState::kDoubtful, work.figures_problem->what, work.figures_problem->next};
  }
  if (const Whisker* whisker = doubtful_whisker(work, false)) {
    return whisker_finding(document, *whisker);
  }
  std::string reason = std::to_string(marks.rim.size()) + " on the rim, ";
  if (!document.round_base) reason += std::to_string(marks.base.size()) + " on the foot, ";
  reason += std::to_string(marks.left.size()) + " left and " + std::to_string(marks.right.size()) +
            " right.";
  return {StepState::kDone, reason, "Go on to the sizes."};
}

// --- Sizes
// ----------------------------------------------------------------------------------------

Finding finding_of(Step step, const Document& document, const WorkState& work);

// The first step before `step` that misses something.
std::optional<Finding> missing_before(Step step, const Document& document, const WorkState& work) {
  for (const Step before : kSteps) {
    if (before == step) break;
    Finding finding = finding_of(before, document, work);
    if (finding.state == StepState::kMissing) return finding;
  }
  return std::nullopt;
}

std::string size_reason(const Measurement& measurement, LengthUnit unit) {
  std::string text;
  for (const FigureRow& row : figure_rows(measurement, unit)) {
    if (row.name != SizeName::kHeight && row.name != SizeName::kMaxDiameter) continue;
    const std::string label = row.name == SizeName::kHeight ? "Height " : ", maximum ";
    text += label + row.value + " ± " + row.plus_minus + " " + row.unit;
  }
  return with_large_start(text) + ".";
}

Finding sizes_finding(const Document& document, const WorkState& work) {
  if (const auto missing = missing_before(Step::kSizes, document, work)) {
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

// --- Clay and templates
// -----------------------------------------------------------------------------

Finding clay_finding(const Document& document, const WorkState&) {
  const std::string type_it = "Type the shrinkage of your test bars, in percent of the wet length.";
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

Finding templates_finding(const Document& document, const WorkState& work) {
  if (const auto missing = missing_before(Step::kTemplates, document, work)) {
    return {StepState::kMissing, "The template comes once the sizes and the clay are there.",
            missing->next};
  }
  if (work.figures_problem != nullptr) {
    return {StepState::kMissing, "The template waits for sizes of the marks as they are now.",
            work.figures_problem->next};
  }
  if (work.template_problem != nullptr) {
    return {StepState::kDoubtful, work.template_problem->what, work.template_problem->next};
  }
  return {StepState::kDone, "The template can be saved and printed.",
          "Save the template, print it at 100 % and check its bars with a ruler."};
}

Finding finding_of(Step step, const Document& document, const WorkState& work) {
  switch (step) {
    case Step::kPhoto:
      return photo_finding(document, work);
    case Step::kReference:
      return reference_finding(document, work);
    case Step::kOutline:
      return outline_finding(document, work);
    case Step::kSizes:
      return sizes_finding(document, work);
    case Step::kClay:
      return clay_finding(document, work);
    case Step::kTemplates:
      break;
  }
  return templates_finding(document, work);
}

}  // namespace

std::string_view step_title(Step step) {
  constexpr std::array<std::string_view, kStepCount> kTitles{"Photo", "Reference", "Outline",
                                                             "Sizes", "Clay",      "Templates"};
  return kTitles.at(static_cast<std::size_t>(step));
}

std::string_view step_opening(Step step) {
  constexpr std::array<std::string_view, kStepCount> kOpenings{
      "Open the photograph as the camera made it. Its lens and its whole frame tell how the pot "
      "was seen, and so how it must be drawn.",
      "Mark one flat thing whose size you know, and say where it is. It is all that tells how many "
      "millimetres the pot has.",
      "Mark the rim, the foot and both sides. The closer the marks follow the pot, the closer your "
      "template will.",
      "See whether the drawn vessel sits on the pot, then read its sizes. Each ± says how far you "
      "may trust the figure before you cut clay by it.",
      "Type how much your clay shrinks. The pot is made larger by that much, so that it fires to "
      "the original's size.",
      "Print the card at true size and hold it against the wet pot, while the form can still be "
      "put right."};
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
  Finding finding = finding_of(step, document, work);
  return {finding.state, std::move(finding.reason)};
}

std::string next_action(Step step, const Document& document, const WorkState& work) {
  return finding_of(step, document, work).next;
}

Step step_due(const Document& document, const WorkState& work) {
  for (const Step step : kSteps) {
    if (finding_of(step, document, work).state == StepState::kMissing) return step;
  }
  return Step::kTemplates;
}

std::size_t working_photo(const Document& document) { return measured_photo(document).value_or(0); }

}  // namespace potshadow

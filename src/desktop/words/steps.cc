// SPDX-License-Identifier: MIT
#include "desktop/words/steps.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "core/typed_number.h"
#include "desktop/document/shown_photo.h"
#include "desktop/words/check_words.h"
#include "desktop/words/clay_book_words.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/figures_words.h"
#include "desktop/words/outline_words.h"
#include "desktop/words/photo_words.h"
#include "desktop/words/reference_words.h"
#include "desktop/words/trace_words.h"
#include "project/compare_series.h"
#include "project/join_trace.h"

namespace potshadow {
namespace {

// How far a step has come, and what to do next in it.
struct Finding {
  StepState state = StepState::kMissing;
  std::string reason;
  std::string next;
};

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

// What the sizes hang on; nothing where there are none of this document.
std::optional<ScaleSource> scale_of(const WorkState& work) {
  const Measurement* measurement = current_measurement(work);
  if (measurement == nullptr) return std::nullopt;
  return measurement->answer.scale;
}

constexpr const char* kNoPhoto = "There is no photograph yet.";
constexpr const char* kOpenPhoto = "Open a photograph, or drop it on the window.";

// --- Photo
// ----------------------------------------------------------------------------------------

Finding photo_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document, work);
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
  if (reference.place == "on-glass") {
    return !reference.shelf_at_glass && !(reference.glass_to_axis_sd_mm > 0.0);
  }
  return reference.riser_mm != 0.0 && !(reference.riser_sd_mm > 0.0);
}

const Whisker* doubtful_whisker(const WorkState& work, bool of_reference) {
  const Measurement* measurement = current_measurement(work);
  if (measurement == nullptr) return nullptr;
  const Whisker* worst = nullptr;
  for (const PhotoAnswer& photo : measurement->answer.photos) {
    for (const Whisker& whisker : photo.overlay.whiskers) {
      if (!whisker.doubtful || (whisker.mark.kind == MarkKind::kReference) != of_reference)
        continue;
      // Of hundreds of traced marks some are far off by chance, and the wild ones are left out.
      if (traced_point_at(measurement->project, mark_in(*measurement, whisker.mark))) continue;
      if (worst == nullptr || whisker.off_sd > worst->off_sd) worst = &whisker;
    }
  }
  return worst;
}

Finding whisker_finding(const Document& document, const WorkState& work, const Whisker& whisker) {
  const MarkId id = mark_in(*work.measurement, whisker.mark);
  std::string mark = with_large_start(mark_words(document, id));
  if (document.photos.size() > 1) mark += " on photograph " + std::to_string(id.photo + 1);
  return {StepState::kDoubtful,
          mark + " lies " + fixed_text(whisker.off_sd, 1) + " times as far off as marking allows.",
          "Look at it again: move it to its place, or take it out."};
}

std::string place_title(const ProjectReference& reference) {
  const std::optional<Place> place = place_of_key(reference.place);
  return place ? with_small_start(place_words(*place).title) : "place not given";
}

Finding reference_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document, work);
  if (photo == nullptr) return {StepState::kMissing, kNoPhoto, kOpenPhoto};
  const ProjectReference* usable = nullptr;
  std::optional<Finding> unusable;
  std::size_t usable_count = 0;
  bool any = false;
  for (std::size_t p = 0; p < document.photos.size(); ++p) {
    const std::vector<ProjectReference>& references = document.photos[p].references;
    for (std::size_t i = 0; i < references.size(); ++i) {
      any = true;
      const std::vector<std::string> missing = reference_missing(references[i]);
      if (missing.empty()) {
        if (usable == nullptr) usable = &references[i];
        ++usable_count;
      } else if (!unusable) {
        std::string which = "Reference " + std::to_string(i + 1);
        if (document.photos.size() > 1) which += " of photograph " + std::to_string(p + 1);
        unusable = Finding{StepState::kMissing, which + " cannot be used yet.", missing.front()};
      }
    }
  }
  const bool open_scale = scale_of(work) == ScaleSource::kNone;
  if (!any && open_scale) {
    return {StepState::kDoubtful, "Nothing says how big the vessel is, so its sizes stay open.",
            "Mark a thing of known size, or give one size of the vessel, known or guessed."};
  }
  if (!any) {
    return {StepState::kMissing, "There is no thing of known size yet.",
            "Choose a thing of known size that is in the picture, such as the label."};
  }
  if (unusable) {
    if (usable_count > 0 || open_scale) unusable->state = StepState::kDoubtful;
    return *unusable;
  }
  for (const ProjectPhoto& one : document.photos) {
    for (const ProjectReference& reference : one.references) {
      if (!place_taken_as_exact(reference)) continue;
      return {StepState::kDoubtful,
              reference.place == "on-glass" ? "The distance from the glass counts as exact."
                                            : "The height of the riser counts as exact.",
              "Type how sure you are of it, for no one measures it without doubt."};
    }
  }
  if (scale_of(work) == ScaleSource::kGuess) {
    return {StepState::kDoubtful, "The scale is a guess.",
            "Put a thing of known size or a catalogue's figure in its place as soon as you can."};
  }
  if (const Whisker* whisker = doubtful_whisker(work, true)) {
    return whisker_finding(document, work, *whisker);
  }
  if (usable_count > 1) {
    return {StepState::kDone, std::to_string(usable_count) + " references are in use.",
            "Go on to the outline."};
  }
  const std::string where = usable->place.empty() ? "" : ", " + place_title(*usable);
  return {StepState::kDone, with_large_start(reference_size_text(*usable, work.unit)) + where + ".",
          "Go on to the outline."};
}

// --- Outline
// --------------------------------------------------------------------------------------

// What a photograph has too few marks of, or nothing. Parts that cannot be seen need none.
std::optional<Finding> marks_missing(const Document& document, const ProjectPhoto& photo) {
  struct Part {
    MarkKind kind;
    const char* reason;
    const char* where;
  };
  constexpr std::array<Part, 3> kParts{
      {{MarkKind::kRim, "The rim has too few marks.", "on the rim"},
       {MarkKind::kBase, "The foot has too few marks.", "on the front of the foot"},
       {MarkKind::kLeft, "The sides have too few marks.", "down the left and right sides"}}};
  const ProjectMarks marks = counted_marks(photo);
  for (const Part& part : kParts) {
    if (part.kind == MarkKind::kRim && document.hidden_rim) continue;
    if (part.kind == MarkKind::kBase && document.hidden_foot) continue;
    const std::size_t count = marks_wanting(part.kind, marks, document.round_base);
    if (count == 0) continue;
    const MarkKindWords words = mark_kind_words(part.kind, document.round_base);
    const bool more = count < words.least;
    if (!has_marks(photo)) {
      return Finding{
          StepState::kMissing, "The vessel is not marked yet.",
          "Press 'Find the outline' and drag a box round the vessel, or mark it by hand."};
    }
    return Finding{
        StepState::kMissing, part.reason,
        "Mark at least " +
            counted(count, more ? "more point" : "point", more ? "more points" : "points") + " " +
            part.where + "."};
  }
  return std::nullopt;
}

Finding outline_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document, work);
  if (photo == nullptr) return {StepState::kMissing, kNoPhoto, kOpenPhoto};
  // Every photograph that has marks must have enough of them, the one that is shown first.
  const std::size_t shown = shown_index(document, work);
  std::optional<Finding> elsewhere;
  bool any_marked = false;
  for (std::size_t i = 0; i < document.photos.size(); ++i) {
    if (!has_marks(document.photos[i])) continue;
    any_marked = true;
    auto missing = marks_missing(document, document.photos[i]);
    if (!missing) continue;
    if (i == shown) return *missing;
    if (elsewhere) continue;
    missing->reason =
        "Photograph " + std::to_string(i + 1) + ": " + with_small_start(missing->reason);
    missing->next = "Go to photograph " + std::to_string(i + 1) + ". " + missing->next;
    elsewhere = std::move(missing);
  }
  if (elsewhere) return *elsewhere;
  if (!has_marks(*photo)) {
    if (!any_marked) return *marks_missing(document, *photo);
    return {StepState::kDone, "This photograph has no marks, so it is left out.",
            "Mark the vessel on it too, or go on to the sizes."};
  }
  const ProjectMarks marks = counted_marks(*photo);
  if (marks.left.empty() || marks.right.empty()) {
    const std::string side = marks.left.empty() ? "left" : "right";
    return {StepState::kDoubtful, "The " + side + " side has no marks.",
            "Mark the " + side + " side too, unless it is hidden."};
  }
  if (work.figures_problem != nullptr && work.figures_problem->code == Code::kBadMarks) {
    return {StepState::kDoubtful, work.figures_problem->what, work.figures_problem->next};
  }
  if (const Whisker* whisker = doubtful_whisker(work, false)) {
    return whisker_finding(document, work, *whisker);
  }
  std::string reason;
  if (!document.hidden_rim) reason = std::to_string(marks.rim.size()) + " on the rim, ";
  if (!document.round_base && !document.hidden_foot)
    reason += std::to_string(marks.base.size()) + " on the foot, ";
  reason += std::to_string(marks.left.size()) + " left and " + std::to_string(marks.right.size()) +
            " right.";
  return {StepState::kDone, reason, "Go on to the sizes."};
}

// --- Sizes
// ----------------------------------------------------------------------------------------

constexpr const char* kGiveASize =
    "Mark a thing of known size in the Reference step, or give one size there, known or guessed.";

Finding compare_finding(const Document& document, const WorkState& work) {
  if (document.photos.empty()) return {StepState::kMissing, kNoPhoto, kOpenPhoto};
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
  const auto missing = missing_before(Step::kSizes, document, work);
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

// --- Clay and templates
// -----------------------------------------------------------------------------

// A clay of the book.
Finding booked_finding(const WorkState& work) {
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

Finding clay_finding(const Document& document, const WorkState& work) {
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

// What plan, templates and check need before there can be any; nothing where all is there.
std::optional<Finding> undrawable(const std::string& what, const Document& document,
                                  const WorkState& work) {
  if (const auto missing = missing_before(Step::kPlan, document, work)) {
    return Finding{StepState::kMissing, what + " comes once the sizes and the clay are there.",
                   missing->next};
  }
  if (scale_of(work) == ScaleSource::kNone) {
    return Finding{StepState::kMissing, what + " needs one size, and nothing gives it yet.",
                   kGiveASize};
  }
  if (work.figures_problem != nullptr) {
    return Finding{StepState::kMissing, what + " waits for sizes of the marks as they are now.",
                   work.figures_problem->next};
  }
  return std::nullopt;
}

Finding plan_finding(const Document& document, const WorkState& work) {
  if (auto missing = undrawable("The plan", document, work)) return *missing;
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

Finding templates_finding(const Document& document, const WorkState& work) {
  if (auto missing = undrawable("The template", document, work)) return *missing;
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
Finding check_finding(const Document& document, const WorkState& work) {
  if (auto missing = undrawable("The check", document, work)) return *missing;
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
    case Step::kPlan:
      return plan_finding(document, work);
    case Step::kTemplates:
      return templates_finding(document, work);
    case Step::kCheck:
      return check_finding(document, work);
    case Step::kCompare:
      break;
  }
  return compare_finding(document, work);
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
  Finding finding = finding_of(step, document, work);
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

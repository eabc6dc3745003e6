// SPDX-License-Identifier: MIT
#include "desktop/words/marking_findings.h"

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/typed_number.h"
#include "desktop/document/shown_photo.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/outline_words.h"
#include "desktop/words/photo_words.h"
#include "desktop/words/reference_words.h"
#include "desktop/words/trace_words.h"
#include "project/join_trace.h"

namespace potshadow::internal {
namespace {

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

StepFinding whisker_finding(const Document& document, const WorkState& work,
                            const Whisker& whisker) {
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

// What a photograph has too few marks of, or nothing. Parts that cannot be seen need none.
std::optional<StepFinding> marks_missing(const Document& document, const ProjectPhoto& photo) {
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
      return StepFinding{
          StepState::kMissing, "The vessel is not marked yet.",
          "Press 'Find the outline' and drag a box round the vessel, or mark it by hand."};
    }
    return StepFinding{
        StepState::kMissing, part.reason,
        "Mark at least " +
            counted(count, more ? "more point" : "point", more ? "more points" : "points") + " " +
            part.where + "."};
  }
  return std::nullopt;
}

}  // namespace

StepFinding photo_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document, work);
  if (photo == nullptr) return no_photo_finding();
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

StepFinding reference_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document, work);
  if (photo == nullptr) return no_photo_finding();
  const ProjectReference* usable = nullptr;
  std::optional<StepFinding> unusable;
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
        unusable =
            StepFinding{StepState::kMissing, which + " cannot be used yet.", missing.front()};
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

StepFinding outline_finding(const Document& document, const WorkState& work) {
  const ProjectPhoto* photo = photo_of(document, work);
  if (photo == nullptr) return no_photo_finding();
  // Every photograph that has marks must have enough of them, the one that is shown first.
  const std::size_t shown = shown_index(document, work);
  std::optional<StepFinding> elsewhere;
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

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
#include "project/measure.h"

#include <algorithm>
#include <string>
#include <utility>

#include "estimate/estimate.h"
#include "project/join_photo.h"
#include "project/join_trace.h"

namespace potshadow {
namespace {

// Returns the one of `photos` that is the same picture as `photo`, or null.
const JoinedPhoto* same_picture(const std::vector<JoinedPhoto>& photos, const JoinedPhoto& photo,
                                const Project& project) {
  const auto found = std::find_if(photos.begin(), photos.end(), [&](const JoinedPhoto& other) {
    if (!photo.sha256.empty() && !other.sha256.empty()) return photo.sha256 == other.sha256;
    const std::string& file = project.photos[photo.index].file;
    return !file.empty() && file == project.photos[other.index].file;
  });
  return found == photos.end() ? nullptr : &*found;
}

// Photographs of one camera and zoom get a number in common; one alone of its kind gets none.
void number_lenses(std::vector<JoinedPhoto>& photos) {
  int next = 0;
  for (std::size_t i = 0; i < photos.size(); ++i) {
    if (!photos[i].lens || photos[i].input.same_lens) continue;
    for (std::size_t k = i + 1; k < photos.size(); ++k) {
      if (photos[k].lens == photos[i].lens) {
        photos[i].input.same_lens = photos[k].input.same_lens = next;
      }
    }
    if (photos[i].input.same_lens) ++next;
  }
}

// Directions count from the first photograph that is measured.
void set_directions(const Project& project, std::vector<JoinedPhoto>& photos,
                    std::vector<Note>& notes) {
  const auto given = [&](const JoinedPhoto& photo) {
    return project.photos[photo.index].direction_deg;
  };
  const double first = given(photos.front()).value_or(0.0);
  const bool any = std::any_of(photos.begin() + 1, photos.end(),
                               [&](const JoinedPhoto& photo) { return given(photo).has_value(); });
  for (std::size_t i = 1; i < photos.size(); ++i) {
    photos[i].input.direction_deg = given(photos[i]).value_or(0.0) - first;
    if (!any || given(photos[i])) continue;
    notes.push_back({photo_words(photos[i].index) +
                         " does not say from which side it was taken, so it counts as taken from "
                         "the side that all directions count from.",
                     false});
  }
}

bool says_how_big(const JoinedPhoto& photo) {
  const PhotoInput& input = photo.input;
  return !input.references.empty() || !input.discs.empty() || !input.lengths.empty() ||
         !input.grids.empty() || !input.neighbours.empty() || !input.sizes.empty() ||
         !input.distances.empty();
}

Result<std::optional<HiddenPart>> hidden_part(const std::optional<ProjectHidden>& hidden,
                                              const char* part) {
  if (!hidden) return std::optional<HiddenPart>();
  if (hidden->low_mm && hidden->high_mm && *hidden->low_mm > *hidden->high_mm) {
    return Problem{
        Code::kBadValue,
        std::string("The lower bound of the hidden ") + part + " is above its upper bound.",
        "Exchange the two, or leave one out.", ""};
  }
  return std::optional<HiddenPart>({hidden->low_mm, hidden->high_mm});
}

struct JoinedInput {
  EstimateInput input;
  std::vector<std::size_t> photo_indices;
  std::vector<LeftOutReference> left_out;
};

Result<JoinedInput> joined_input(const Project& project, const std::filesystem::path& folder,
                                 const PhotoProbe& probe) {
  if (project.photos.empty()) {
    return Problem{Code::kCannotBeAnswered, "The project has no photograph.",
                   "Add one, and mark the vessel and a thing of known size on it.", ""};
  }
  const auto marked = std::count_if(project.photos.begin(), project.photos.end(), has_marks);
  if (marked == 0) {
    return Problem{Code::kTooFewMarks, "No photograph of the project carries marks on the vessel.",
                   "Mark its rim, its base and both sides of its outline.", ""};
  }
  std::vector<Note> notes;
  std::vector<JoinedPhoto> photos;
  for (std::size_t i = 0; i < project.photos.size(); ++i) {
    if (!has_marks(project.photos[i])) {
      if (project.photos[i].references.empty()) continue;
      notes.push_back({photo_words(i) +
                           " carries no marks on the vessel, so it was left out, and its "
                           "references with it.",
                       true});
      continue;
    }
    // Whoever begins to mark a further photograph keeps the answer of those before.
    const std::string missing =
        photos.empty() ? ""
                       : missing_marks(joined_marks(project.photos[i]), !project.hidden_rim,
                                       !project.round_base && !project.hidden_foot);
    if (!missing.empty()) {
      notes.push_back({photo_words(i) + " " + missing + ", so it was left out.", true});
      continue;
    }
    Result<JoinedPhoto> joined = join_photo(project, i, folder, probe, marked > 1);
    if (!joined) return joined.problem();
    if (const JoinedPhoto* const same = same_picture(photos, *joined, project)) {
      notes.push_back({photo_words(i) + " is the same picture as photo " +
                           std::to_string(same->index + 1) +
                           ", so it was left out: a picture counts once.",
                       true});
      continue;
    }
    notes.insert(notes.end(), joined.notes().begin(), joined.notes().end());
    photos.push_back(std::move(joined).value());
  }
  number_lenses(photos);
  set_directions(project, photos, notes);

  JoinedInput all;
  all.input.photos.clear();
  const bool scaled = std::any_of(photos.begin(), photos.end(), says_how_big);
  for (JoinedPhoto& photo : photos) {
    photo.input.number = photo.index;
    all.left_out.insert(all.left_out.end(), photo.left_out.begin(), photo.left_out.end());
    all.input.photos.push_back(std::move(photo.input));
    all.photo_indices.push_back(photo.index);
  }
  if (!scaled && !all.left_out.empty()) {
    notes.push_back(
        {"No reference that is complete is left to say how big the vessel is, so only "
         "its proportions are given.",
         true});
  }
  all.input.out_of_round_percent = project.out_of_round_percent;
  all.input.round_base = project.round_base;
  const Result<std::optional<HiddenPart>> foot = hidden_part(project.hidden_foot, "foot");
  if (!foot) return foot.problem();
  const Result<std::optional<HiddenPart>> rim = hidden_part(project.hidden_rim, "rim");
  if (!rim) return rim.problem();
  all.input.hidden_foot = *foot;
  all.input.hidden_rim = *rim;
  all.input.wall_mm = project.wall.value_mm;
  all.input.wall_sd_mm = project.wall.sd_mm;
  return {std::move(all), std::move(notes)};
}

}  // namespace

std::optional<std::size_t> measured_photo(const Project& project) {
  const auto found = std::find_if(project.photos.begin(), project.photos.end(), has_marks);
  if (found == project.photos.end()) return std::nullopt;
  return static_cast<std::size_t>(found - project.photos.begin());
}

Result<EstimateInput> estimate_input(const Project& project, const std::filesystem::path& folder,
                                     const PhotoProbe& probe) {
  Result<JoinedInput> joined = joined_input(project, folder, probe);
  if (!joined) return joined.problem();
  std::vector<Note> notes = joined.notes();
  return {std::move(joined).value().input, std::move(notes)};
}

Result<std::optional<TotalShrinkage>> clay_shrinkage(const Project& project) {
  if (!project.clay || !project.clay->shrinkage_percent) return std::optional<TotalShrinkage>();
  const Result<TotalShrinkage> shrinkage = TotalShrinkage::from_percent_of_wet(
      *project.clay->shrinkage_percent, project.clay->shrinkage_sd_percent);
  if (!shrinkage) return shrinkage.problem();
  return std::optional<TotalShrinkage>(*shrinkage);
}

Result<Measurement> measure_project(const Project& project, const std::filesystem::path& folder,
                                    const PhotoProbe& probe, const Estimator& estimator) {
  const Result<JoinedInput> joined = joined_input(project, folder, probe);
  if (!joined) return joined.problem();
  const Result<std::optional<TotalShrinkage>> shrinkage = clay_shrinkage(project);
  if (!shrinkage) return shrinkage.problem();
  Result<Answer> estimated = estimator ? estimator(joined->input) : estimate(joined->input);
  if (!estimated) return estimated.problem();
  std::vector<Note> notes = joined.notes();
  notes.insert(notes.end(), estimated.notes().begin(), estimated.notes().end());
  Answer answer = std::move(estimated).value();
  answer.notes.insert(answer.notes.begin(), notes.begin(), notes.end());
  Measurement measurement{project, joined->photo_indices.front(), std::move(answer), *shrinkage};
  measurement.photo_indices = joined->photo_indices;
  measurement.left_out = joined->left_out;
  return measurement;
}

SizeWay way_of(SizeName name) {
  const bool upright = name == SizeName::kHeight || name == SizeName::kHeightOfMax ||
                       name == SizeName::kHeightOfNeck;
  return upright ? SizeWay::kUpright : SizeWay::kAcross;
}

PartKind part_kind_of(SizeName name) {
  switch (name) {
    case SizeName::kHeight:
      return PartKind::kHeight;
    case SizeName::kHeightOfMax:
    case SizeName::kHeightOfNeck:
      return PartKind::kPlace;
    case SizeName::kCapacity:
      return PartKind::kCapacity;
    default:
      return PartKind::kDiameter;
  }
}

StageSize at_stage(const MeasuredSize& size, const BodyFigures& figures, Stage stage) {
  if (size.name == SizeName::kCapacity) return volume_at_stage(size.measured, figures, stage);
  return length_at_stage(size.measured, figures, stage, way_of(size.name));
}

Measured wet_size(const Measurement& measurement, const MeasuredSize& size) {
  POTSHADOW_CHECK(measurement.shrinkage.has_value());
  const bool volume = size.name == SizeName::kCapacity;
  if (!measurement.clay) {
    return volume ? measurement.shrinkage->wet_volume(size.measured)
                  : measurement.shrinkage->wet_length(size.measured, way_of(size.name));
  }
  return at_stage(size, measurement.clay->figures, Stage::kWet).measured;
}

void add_clay(const Result<ClayBook>& book, Measurement& measurement) {
  std::vector<Note>& notes = measurement.answer.notes;
  const auto note = [&](const Problem& problem) {
    notes.push_back({problem.what + " " + problem.next, true});
  };
  if (!book && measurement.project.clay && !measurement.project.clay->record.empty()) {
    note(book.problem());
  }
  const Result<std::optional<ProjectClayFigures>> clay =
      project_clay(measurement.project, book.ok() ? *book : ClayBook());
  if (!clay) {
    if (book.ok()) note(clay.problem());
    return;
  }
  if (!*clay) return;
  notes.insert(notes.end(), clay.notes().begin(), clay.notes().end());
  measurement.clay = *clay;
  measurement.shrinkage = (*clay)->total;
}

Result<Measurement> measure_and_redraw(const Project& project, const std::filesystem::path& folder,
                                       const MonteCarloWishes& wishes, const PhotoProbe& probe) {
  std::optional<MonteCarlo> found;
  const auto redraw = [&](const EstimateInput& input) {
    Result<Answer> estimated = estimate(input);
    if (!estimated) return estimated;
    const Result<MonteCarlo> checked = monte_carlo(input, *estimated, wishes);
    std::vector<Note> notes = estimated.notes();
    Answer answer = std::move(estimated).value();
    if (checked.ok()) {
      found = *checked;
      take_up(*found, answer);
    } else {
      answer.notes.push_back({checked.problem().what + " " + checked.problem().next, true});
    }
    return Result<Answer>(std::move(answer), std::move(notes));
  };
  Result<Measurement> measured = measure_project(project, folder, probe, redraw);
  if (!measured) return measured;
  Measurement measurement = std::move(measured).value();
  measurement.monte_carlo = std::move(found);
  return measurement;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "project/measure.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "core/text.h"
#include "estimate/estimate.h"
#include "project/camera_book.h"
#include "project/join_references.h"
#include "project/join_trace.h"

namespace potshadow {
namespace {

constexpr double kDefaultFocalSdPercent = 2.0;

std::string photo_words(std::size_t index) { return "Photo " + std::to_string(index + 1); }

bool has_size(const PhotoRecord& record) { return record.width_px && record.height_px; }

// --- The photograph's file --------------------------------------------------------------------

bool has_changed(const PhotoRecord& record, const PhotoFacts& facts) {
  if (!record.sha256.empty()) return record.sha256 != facts.sha256;
  return record.bytes && *record.bytes != facts.bytes;
}

// Sets size and focal length of `input` from what the file says and the project.
std::optional<Problem> join_file(const ProjectPhoto& photo, const Result<PhotoFacts>& facts,
                                 PhotoInput& input, std::vector<Note>& notes) {
  if (photo.file.empty() && !has_size(photo.record)) {
    return Problem{Code::kCannotBeAnswered,
                   "The project does not say which photograph it is about.",
                   "Give the photograph's name as 'file' in the project.", ""};
  }
  std::optional<FocalFromExif> exif_focal;
  if (facts.ok()) {
    notes.insert(notes.end(), facts.notes().begin(), facts.notes().end());
    input.width_px = facts->width_px;
    input.height_px = facts->height_px;
    exif_focal = facts->focal;
    const bool changed = has_changed(photo.record, *facts);
    const bool other_size = has_size(photo.record) && (*photo.record.width_px != facts->width_px ||
                                                       *photo.record.height_px != facts->height_px);
    if (changed || other_size) {
      std::string text = "The photograph '" + photo.file +
                         "' is not the same as when it was marked; check that the marks still lie "
                         "on it.";
      // Marks belong to the picture they were put on.
      const bool same_file = !photo.record.sha256.empty() && !changed;
      if (other_size && !same_file) {
        input.width_px = *photo.record.width_px;
        input.height_px = *photo.record.height_px;
        text += " Its size was " + std::to_string(input.width_px) + " x " +
                std::to_string(input.height_px) + " pixels then, and the marks are read so.";
      }
      notes.push_back({text, true});
    }
  } else if (has_size(photo.record)) {
    input.width_px = *photo.record.width_px;
    input.height_px = *photo.record.height_px;
    if (!photo.file.empty()) {
      notes.push_back({facts.problem().what +
                           " The marks alone were measured, with the picture's size as recorded.",
                       true});
    }
  } else {
    return facts.problem();
  }
  // Sizes so far are those before turning; marks are counted in the turned picture.
  if (photo.quarter_turns % 2 != 0) std::swap(input.width_px, input.height_px);

  if (photo.focal_35mm) {
    input.focal =
        FocalPrior{*photo.focal_35mm, photo.focal_sd_percent.value_or(kDefaultFocalSdPercent)};
    constexpr double kNoticeable = 0.1;  // a zoom step, never a matter of rounding
    if (exif_focal && std::abs(exif_focal->focal_35mm / *photo.focal_35mm - 1.0) > kNoticeable) {
      notes.push_back({"The focal length in the project (" + fixed_text(*photo.focal_35mm, 1) +
                           " mm) was used, though the photograph itself says " +
                           fixed_text(exif_focal->focal_35mm, 1) + " mm.",
                       true});
    }
  } else if (exif_focal) {
    input.focal =
        FocalPrior{exif_focal->focal_35mm, photo.focal_sd_percent.value_or(exif_focal->sd_percent)};
  } else {
    notes.push_back(
        {"Neither the photograph nor the project gives a focal length, so it is found "
         "from the marks alone and the intervals are wider.",
         false});
  }
  return std::nullopt;
}

// --- Marks ------------------------------------------------------------------------------------

std::optional<Problem> check_inside(const PhotoInput& photo, std::size_t photo_index,
                                    const std::string& word, std::span<const PhotoPoint> points) {
  const double margin = photo.width_px;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const PhotoPoint& point = points[i];
    if (point.x_px >= -margin && point.x_px <= photo.width_px + margin && point.y_px >= -margin &&
        point.y_px <= photo.height_px + margin) {
      continue;
    }
    return Problem{
        Code::kBadMarks,
        "In photo " + std::to_string(photo_index + 1) + ", " + word + " " + std::to_string(i + 1) +
            " lies far outside the picture.",
        "Move it to its place, or take it out; check too that it is the right photograph.", ""};
  }
  return std::nullopt;
}

std::optional<Problem> check_all_inside(const PhotoInput& photo, std::size_t photo_index) {
  std::optional<Problem> first;
  const auto check = [&](const std::string& word, std::span<const PhotoPoint> points) {
    if (!first) first = check_inside(photo, photo_index, word, points);
  };
  const auto check_marks = [&](const std::string& of, const Marks& marks) {
    check(of + "rim mark", marks.rim);
    check(of + "base mark", marks.base);
    check(of + "left mark", marks.left);
    check(of + "right mark", marks.right);
  };
  const auto of_reference = [](std::size_t number) {
    return "reference " + std::to_string(number + 1) + ", ";
  };
  const auto check_flat = [&](const FlatReference& flat, const char* word,
                              std::span<const PhotoPoint> points) {
    check(of_reference(flat.number) + word, points);
    if (flat.shelf_at_glass) {
      check(of_reference(flat.number) + "mark where shelf and glass meet", *flat.shelf_at_glass);
    }
  };
  for (const RectangleReference& rectangle : photo.references) {
    check_flat(rectangle, "corner", rectangle.corners);
  }
  for (const DiscReference& disc : photo.discs) check_flat(disc, "edge mark", disc.edge);
  for (const LengthReference& length : photo.lengths) check_flat(length, "end", length.ends);
  for (const GridReference& grid : photo.grids) {
    std::vector<PhotoPoint> crossings;
    for (const GridReference::Crossing& crossing : grid.crossings) crossings.push_back(crossing.at);
    check_flat(grid, "crossing", crossings);
  }
  for (const NeighbourReference& neighbour : photo.neighbours) {
    check_marks(of_reference(neighbour.number), neighbour.marks);
  }
  check_marks("", photo.marks);
  return first;
}

// --- Several photographs ----------------------------------------------------------------------

// What tells that two photographs were taken with the same camera and zoom.
struct LensSign {
  std::string make;
  std::string model;
  std::string lens;
  double focal_mm = 0.0;
  double digital_zoom = 1.0;
  double typed_35mm = 0.0;  // a focal length that the project gives instead
  int longer_px = 0;        // the picture's sides, however it was held
  int shorter_px = 0;
  friend bool operator==(const LensSign&, const LensSign&) = default;
};

// Nothing where the file does not say which lens took it, or not the whole picture is left.
std::optional<LensSign> lens_sign(const ProjectPhoto& photo, const PhotoFacts& facts,
                                  const PhotoInput& input) {
  if (photo.cropped || facts.exif.model.empty() || !facts.exif.focal_length) return std::nullopt;
  return LensSign{facts.exif.make,
                  facts.exif.model,
                  facts.exif.lens,
                  facts.exif.focal_length->value,
                  facts.exif.digital_zoom.value_or(1.0),
                  photo.focal_35mm.value_or(0.0),
                  std::max(input.width_px, input.height_px),
                  std::min(input.width_px, input.height_px)};
}

// One photograph that is measured, and what tells it from others.
struct JoinedPhoto {
  std::size_t index = 0;
  PhotoInput input;
  std::string sha256;  // of the file as it is, else as it was marked; may be empty
  std::optional<LensSign> lens;
  std::vector<LeftOutReference> left_out;
};

// Returns the photograph's part of the input; references and size problems as notes, named by the
// photograph where there are `several`.
Result<JoinedPhoto> join_photo(const Project& project, std::size_t index,
                               const std::filesystem::path& folder, const PhotoProbe& probe,
                               bool several) {
  const ProjectPhoto& photo = project.photos[index];
  JoinedPhoto joined;
  joined.index = index;
  PhotoInput& input = joined.input;
  std::vector<Note> notes;
  const Result<PhotoFacts> facts = probe(folder / photo.file);
  const std::string prefix = several ? photo_words(index) + ": " : "";
  if (auto problem = join_file(photo, facts, input, notes)) {
    problem->what.insert(0, prefix);
    return *problem;
  }
  for (Note& note : notes) note.text.insert(0, prefix);
  joined.sha256 = facts.ok() ? facts->sha256 : photo.record.sha256;
  if (facts.ok()) {
    joined.lens = lens_sign(photo, *facts, input);
    input.lens = lens_for_photo(*facts, photo, input.width_px, input.height_px);
  }
  input.cropped = photo.cropped;
  if (photo.glass) {
    input.glass =
        GlassPane{photo.glass->thickness_mm, photo.glass->thickness_sd_mm, photo.glass->index};
  }
  input.marks = joined_marks(photo);
  joined.left_out = join_references(photo, index, input);
  for (const LeftOutReference& each : joined.left_out) notes.push_back(each.note);
  if (auto problem = check_all_inside(input, index)) return *problem;
  return {std::move(joined), std::move(notes)};
}

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

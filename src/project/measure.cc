// SPDX-License-Identifier: MIT
#include "project/measure.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <string>
#include <utility>

#include "core/text.h"
#include "estimate/estimate.h"

namespace potshadow {
namespace {

constexpr double kDefaultFocalSdPercent = 2.0;

std::string photo_words(std::size_t index) { return "Photo " + std::to_string(index + 1); }

bool has_marks(const ProjectPhoto& photo) {
  const ProjectMarks& marks = photo.marks;
  return !marks.rim.empty() || !marks.base.empty() || !marks.left.empty() || !marks.right.empty();
}

bool has_size(const PhotoRecord& record) { return record.width_px && record.height_px; }

// --- The photograph's file --------------------------------------------------------------------

bool has_changed(const PhotoRecord& record, const PhotoFacts& facts) {
  if (!record.sha256.empty()) return record.sha256 != facts.sha256;
  return record.bytes && *record.bytes != facts.bytes;
}

// Sets size and focal length of `input` from the file and the project.
std::optional<Problem> join_file(const ProjectPhoto& photo, const std::filesystem::path& folder,
                                 const PhotoProbe& probe, PhotoInput& input,
                                 std::vector<Note>& notes) {
  if (photo.file.empty() && !has_size(photo.record)) {
    return Problem{Code::kCannotBeAnswered,
                   "The project does not say which photograph it is about.",
                   "Give the photograph's name as 'file' in the project.", ""};
  }
  std::optional<FocalFromExif> exif_focal;
  const Result<PhotoFacts> facts = probe(folder / photo.file);
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

// --- References -------------------------------------------------------------------------------

std::optional<Place> place_of(const std::string& text) {
  if (text == "lying") return Place::kLying;
  if (text == "standing") return Place::kStanding;
  if (text == "leaning") return Place::kLeaning;
  if (text == "on-glass") return Place::kOnGlass;
  return std::nullopt;
}

// Why a reference cannot be used: `why` follows its name ("... has no width yet").
struct Unusable {
  Code code = Code::kCannotBeAnswered;
  std::string why;
  std::string next;
};

// Fills what a rectangle and a disc have in common.
template <class Reference>
void copy_common(const ProjectReference& from, std::size_t number, Reference& to) {
  to.number = number;
  to.size_sd_mm = from.size_sd_mm;
  to.place = place_of(from.place).value();
  to.behind_glass = from.behind_glass;
  to.riser_mm = from.riser_mm;
  to.riser_sd_mm = from.riser_sd_mm;
  to.glass_to_axis_mm = from.glass_to_axis_mm.value_or(0.0);
  to.glass_to_axis_sd_mm = from.glass_to_axis_sd_mm;
}

// Says why the reference cannot be used, whatever its shape.
std::optional<Unusable> trouble_of_place(const ProjectReference& reference) {
  if (reference.kind != "rectangle" && reference.kind != "disc") {
    constexpr std::array kPlanned{"length", "grid", "neighbour"};
    const bool planned =
        std::find(kPlanned.begin(), kPlanned.end(), reference.kind) != kPlanned.end();
    return Unusable{Code::kCannotBeAnswered,
                    "is of the kind '" + reference.kind + "', which this version does not " +
                        (planned ? "use yet" : "know"),
                    "Use a rectangle or a disc, such as a label, a card or a coin."};
  }
  const std::string say_place =
      "Say its place: \"lying\", \"standing\", \"leaning\" or \"on-glass\".";
  if (reference.place.empty()) {
    return Unusable{Code::kCannotBeAnswered, "does not say yet where it is", say_place};
  }
  const std::optional<Place> place = place_of(reference.place);
  if (!place) {
    return Unusable{Code::kCannotBeAnswered,
                    "has the place '" + reference.place + "', which this version does not " +
                        (reference.place == "beside" ? "use yet" : "know"),
                    say_place};
  }
  if (place == Place::kOnGlass && !(reference.glass_to_axis_mm.value_or(0.0) > 0.0)) {
    return Unusable{Code::kCannotBeAnswered,
                    "is on the glass, but how far that is from the vessel is not given yet",
                    "Give the distance from the glass to the middle of the vessel "
                    "('glass_to_axis_mm' in a project file), with its uncertainty."};
  }
  return std::nullopt;
}

Unusable without_size(const std::string& size) {
  return {Code::kCannotBeAnswered, "has no " + size + " yet",
          "Measure it, or look its size up, and give it ('" + size + "_mm' in a project file)."};
}

// Adds the rectangle to the input, or says why it cannot be used.
std::optional<Unusable> join_rectangle(const ProjectReference& reference, std::size_t number,
                                       PhotoInput& input) {
  if (!reference.width_mm) return without_size("width");
  if (!reference.height_mm) return without_size("height");
  if (reference.corners.size() != 4) {
    return Unusable{Code::kTooFewMarks,
                    "has " + std::to_string(reference.corners.size()) + " of its 4 corners marked",
                    "Mark all four corners."};
  }
  RectangleReference rectangle;
  copy_common(reference, number, rectangle);
  rectangle.width_mm = *reference.width_mm;
  rectangle.height_mm = *reference.height_mm;
  std::copy(reference.corners.begin(), reference.corners.end(), rectangle.corners.begin());
  input.references.push_back(rectangle);
  return std::nullopt;
}

// Adds the disc to the input, or says why it cannot be used.
std::optional<Unusable> join_disc(const ProjectReference& reference, std::size_t number,
                                  PhotoInput& input) {
  if (!reference.diameter_mm) return without_size("diameter");
  constexpr std::size_t kFewestOnEdge = 5;  // what an ellipse takes
  const std::size_t marked = reference.edge.size();
  if (marked < kFewestOnEdge) {
    return Unusable{Code::kTooFewMarks,
                    "has " + std::to_string(marked) + (marked == 1 ? " mark" : " marks") +
                        " on its edge, and a disc needs at least " + std::to_string(kFewestOnEdge),
                    "Mark more points, spread all round its edge."};
  }
  DiscReference disc;
  copy_common(reference, number, disc);
  disc.diameter_mm = *reference.diameter_mm;
  disc.edge = reference.edge;
  input.discs.push_back(std::move(disc));
  return std::nullopt;
}

// Adds a size of the vessel to the input, or says why it cannot be used.
std::optional<Unusable> join_size(const ProjectReference& reference, std::size_t number,
                                  PhotoInput& input) {
  const std::string say_size =
      "Say which: \"height\", \"max_diameter\", \"neck_diameter\", \"rim_diameter\" or "
      "\"base_diameter\".";
  if (reference.size.empty()) {
    return Unusable{Code::kCannotBeAnswered, "does not say yet which size of the vessel it gives",
                    say_size};
  }
  const std::optional<SizeName> name = size_of_key(reference.size);
  if (!name) {
    return Unusable{Code::kCannotBeAnswered,
                    "gives the size '" + reference.size + "', which this version does not know",
                    say_size};
  }
  if (!reference.value_mm) {
    return Unusable{Code::kCannotBeAnswered, "does not give the size yet",
                    "Give it in millimetres ('value_mm' in a project file)."};
  }
  input.sizes.push_back({number, *name, *reference.value_mm,
                         reference.sd_mm.value_or(kDefaultKnownSizeSdMm), reference.guess});
  return std::nullopt;
}

// Adds a measured distance to the input, or says why it cannot be used.
std::optional<Unusable> join_distance(const ProjectReference& reference, std::size_t number,
                                      PhotoInput& input) {
  if (!reference.value_mm) {
    return Unusable{Code::kCannotBeAnswered, "does not say yet how far away the camera was",
                    "Give the distance from the lens to the middle of the vessel in millimetres "
                    "('value_mm' in a project file)."};
  }
  input.distances.push_back(
      {number, *reference.value_mm, reference.sd_mm.value_or(kDefaultDistanceSdMm)});
  return std::nullopt;
}

std::optional<Unusable> join_reference(const ProjectReference& reference, std::size_t number,
                                       PhotoInput& input) {
  if (reference.kind == "size") return join_size(reference, number, input);
  if (reference.kind == "distance") return join_distance(reference, number, input);
  if (auto trouble = trouble_of_place(reference)) return trouble;
  return reference.kind == "disc" ? join_disc(reference, number, input)
                                  : join_rectangle(reference, number, input);
}

std::optional<Problem> join_references(const ProjectPhoto& photo, std::size_t photo_index,
                                       PhotoInput& input, std::vector<Note>& notes) {
  std::vector<Note> unused;
  std::optional<Problem> first;
  for (std::size_t i = 0; i < photo.references.size(); ++i) {
    const std::optional<Unusable> trouble = join_reference(photo.references[i], i, input);
    if (!trouble) continue;
    const std::string what =
        photo_words(photo_index) + ", reference " + std::to_string(i + 1) + " " + trouble->why;
    unused.push_back({what + ", so it was left out.", true});
    if (!first) first = Problem{trouble->code, what + ".", trouble->next, ""};
  }
  if (photo.references.empty()) {
    return Problem{Code::kCannotBeAnswered,
                   photo_words(photo_index) + " has no reference, a thing of known size.",
                   "Mark something whose size you know, such as the label, a card or a coin.", ""};
  }
  if (input.references.empty() && input.discs.empty() && input.sizes.empty() &&
      input.distances.empty()) {
    return first;
  }
  notes.insert(notes.end(), unused.begin(), unused.end());
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
  const auto reference_words = [](std::size_t number, const char* mark) {
    return "reference " + std::to_string(number + 1) + ", " + mark;
  };
  for (const RectangleReference& rectangle : photo.references) {
    const std::string word = reference_words(rectangle.number, "corner");
    if (auto problem = check_inside(photo, photo_index, word, rectangle.corners)) return problem;
  }
  for (const DiscReference& disc : photo.discs) {
    const std::string word = reference_words(disc.number, "edge mark");
    if (auto problem = check_inside(photo, photo_index, word, disc.edge)) return problem;
  }
  const Marks& marks = photo.marks;
  const std::array<std::pair<const char*, const std::vector<PhotoPoint>*>, 4> lists{
      {{"rim mark", &marks.rim},
       {"base mark", &marks.base},
       {"left mark", &marks.left},
       {"right mark", &marks.right}}};
  for (const auto& [word, points] : lists) {
    if (auto problem = check_inside(photo, photo_index, word, *points)) return problem;
  }
  return std::nullopt;
}

}  // namespace

std::optional<std::size_t> measured_photo(const Project& project) {
  const auto found = std::find_if(project.photos.begin(), project.photos.end(), has_marks);
  if (found == project.photos.end()) return std::nullopt;
  return static_cast<std::size_t>(found - project.photos.begin());
}

Result<EstimateInput> estimate_input(const Project& project, const std::filesystem::path& folder,
                                     const PhotoProbe& probe) {
  if (project.photos.empty()) {
    return Problem{Code::kCannotBeAnswered, "The project has no photograph.",
                   "Add one, and mark the vessel and a thing of known size on it.", ""};
  }
  const std::optional<std::size_t> index = measured_photo(project);
  if (!index) {
    return Problem{Code::kTooFewMarks, "No photograph of the project carries marks on the vessel.",
                   "Mark its rim, its base and both sides of its outline.", ""};
  }
  std::vector<Note> notes;
  if (project.photos.size() > 1) {
    notes.push_back({"The project has " + std::to_string(project.photos.size()) +
                         " photographs; this version measures one, and took " + "photo " +
                         std::to_string(*index + 1) + ", the first with marks.",
                     false});
  }
  const ProjectPhoto& photo = project.photos[*index];
  EstimateInput input;
  if (auto problem = join_file(photo, folder, probe, input.photos.front(), notes)) return *problem;
  if (auto problem = join_references(photo, *index, input.photos.front(), notes)) return *problem;
  input.photos.front().cropped = photo.cropped;
  if (photo.glass) {
    input.photos.front().glass =
        GlassPane{photo.glass->thickness_mm, photo.glass->thickness_sd_mm, photo.glass->index};
  }
  input.photos.front().marks = {photo.marks.rim, photo.marks.base, photo.marks.left,
                                photo.marks.right, photo.marks.sd_px};
  input.out_of_round_percent = project.out_of_round_percent;
  input.round_base = project.round_base;
  input.wall_mm = project.wall.value_mm;
  input.wall_sd_mm = project.wall.sd_mm;
  if (auto problem = check_all_inside(input.photos.front(), *index)) return *problem;
  return {input, notes};
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
  const Result<EstimateInput> input = estimate_input(project, folder, probe);
  if (!input) return input.problem();
  const Result<std::optional<TotalShrinkage>> shrinkage = clay_shrinkage(project);
  if (!shrinkage) return shrinkage.problem();
  Result<Answer> estimated = estimator ? estimator(*input) : estimate(*input);
  if (!estimated) return estimated.problem();
  std::vector<Note> notes = input.notes();
  notes.insert(notes.end(), estimated.notes().begin(), estimated.notes().end());
  Answer answer = std::move(estimated).value();
  answer.notes.insert(answer.notes.begin(), notes.begin(), notes.end());
  return Measurement{project, measured_photo(project).value(), std::move(answer), *shrinkage};
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

// SPDX-License-Identifier: MIT
#include "project/join_photo.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "core/text.h"
#include "project/join_trace.h"
#include "project/photo_lens.h"

namespace potshadow {
namespace {

constexpr double kDefaultFocalSdPercent = 2.0;

bool has_size(const PhotoRecord& record) { return record.width_px && record.height_px; }

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

}  // namespace

std::string photo_words(std::size_t index) { return "Photo " + std::to_string(index + 1); }

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

}  // namespace potshadow

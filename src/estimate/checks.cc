// SPDX-License-Identifier: MIT
#include "estimate/checks.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "core/text.h"
#include "estimate/mark_checks.h"
#include "estimate/reference_checks.h"

namespace potshadow::internal {
namespace {

constexpr double kFinestMarkPx = 1e-4;
constexpr double kRoughestMarkPx = 200.0;

// The precision that single marks or a reference's marks have of their own.
Finding check_own_precision(const PhotoInput& photo) {
  const auto usable = [](double sd_px) { return in_range(sd_px, kFinestMarkPx, kRoughestMarkPx); };
  const auto hand_or_usable = [&](double sd_px) { return sd_px == 0.0 || usable(sd_px); };
  const auto list_usable = [&](const std::vector<double>& sds_px, std::size_t marks) {
    return sds_px.empty() ||
           (sds_px.size() == marks && std::all_of(sds_px.begin(), sds_px.end(), hand_or_usable));
  };
  const auto all_usable = [&](const Marks& marks) {
    return list_usable(marks.rim_sd_px, marks.rim.size()) &&
           list_usable(marks.base_sd_px, marks.base.size()) &&
           list_usable(marks.left_sd_px, marks.left.size()) &&
           list_usable(marks.right_sd_px, marks.right.size());
  };
  const auto seats_usable = [&](const auto& references) {
    return std::all_of(references.begin(), references.end(), [&](const FlatReference& seat) {
      return !seat.marks_sd_px || usable(*seat.marks_sd_px);
    });
  };
  if (all_usable(photo.marks) && seats_usable(photo.references) && seats_usable(photo.discs) &&
      seats_usable(photo.lengths) && seats_usable(photo.grids) &&
      std::all_of(photo.neighbours.begin(), photo.neighbours.end(),
                  [&](const NeighbourReference& n) { return all_usable(n.marks); })) {
    return {};
  }
  return bad_value("The precision of a traced mark is out of range.",
                   "Trace the outline again, or mark it by hand.");
}

Finding check_photo_numbers(const PhotoInput& photo) {
  constexpr int kMostPx = 100000;
  if (photo.width_px < 1 || photo.height_px < 1 || photo.width_px > kMostPx ||
      photo.height_px > kMostPx) {
    return bad_value("The photograph has no usable size in pixels.",
                     "Check the photograph, or give its width and height.");
  }
  if (photo.focal && (!in_range(photo.focal->focal_35mm, 4.0, 3000.0) ||
                      !in_range(photo.focal->sd_percent, 0.01, 100.0))) {
    return bad_value("The focal length is not one a camera can have.",
                     "Give the 35 mm equivalent, for most phones between 13 and 120.");
  }
  if (!in_range(photo.lens.k1_sd, 0.0, 0.5)) {
    return bad_value("The doubt about lens distortion is out of range.", "Use 0.02.");
  }
  if (!in_range(photo.lens.k1, -1.0, 1.0) || !in_range(photo.lens.k2, -5.0, 5.0)) {
    return bad_value("The lens distortion is out of range.",
                     "Calibrate the camera again, or take its profile out.");
  }
  if (!in_range(photo.direction_deg, -3600.0, 3600.0)) {
    return bad_value("The direction from which a photograph was taken is out of range.",
                     "Give it in degrees round the vessel, from 0 to 360.");
  }
  if (photo.glass && (!in_range(photo.glass->thickness_mm, 0.0, 200.0) ||
                      !in_range(photo.glass->thickness_sd_mm, 0.0, 100.0) ||
                      !in_range(photo.glass->index, 1.0, 2.5))) {
    return bad_value("The glass pane's thickness or index is out of range.",
                     "Give a thickness from 0 to 200 mm; the index of window glass is 1.52.");
  }
  if (!in_range(photo.marks.sd_px, kFinestMarkPx, kRoughestMarkPx)) {
    return bad_value("The stated precision of the marks is out of range.",
                     "Give the marks' standard deviation in pixels, about 1 for careful clicks.");
  }
  return check_own_precision(photo);
}

Finding check_hidden(const EstimateInput& input) {
  const auto bad = [](const std::optional<HiddenPart>& part, double low, double high) {
    if (!part) return false;
    if (part->low_mm && !in_range(*part->low_mm, low, high)) return true;
    if (part->high_mm && !in_range(*part->high_mm, low, high)) return true;
    return part->low_mm && part->high_mm && !(*part->low_mm < *part->high_mm);
  };
  if (bad(input.hidden_foot, 0.0, 5000.0)) {
    return bad_value("The bounds of what hides the foot cannot be right.",
                     "Give the least and the greatest height of the stand's top above the shelf, "
                     "in millimetres, the smaller first.");
  }
  if (bad(input.hidden_rim, 1.0, 10000.0)) {
    return bad_value("The bounds of the missing rim cannot be right.",
                     "Give the least and the greatest height the whole vessel had, in "
                     "millimetres, the smaller first.");
  }
  return {};
}

Finding check_numbers(const EstimateInput& input) {
  if (!in_range(input.out_of_round_percent, 0.0, 30.0)) {
    return bad_value("The out-of-round figure is out of range.",
                     "Give a percentage from 0 to 30; hand-built ware is about 1.");
  }
  if (!in_range(input.wall_mm, 0.0, 1000.0) || !in_range(input.wall_sd_mm, 0.0, 1000.0)) {
    return bad_value("The wall's thickness is out of range.",
                     "Give the wall's thickness in millimetres, about 6 for a small jar.");
  }
  return {};
}

Finding check_photo(const EstimateInput& input, const PhotoInput& photo) {
  if (auto found = check_photo_numbers(photo)) return found;
  if (auto found = check_references(photo, input.round_base)) return found;
  if (auto found = check_marks(photo, photo.marks, {needs_rim(input), needs_base(input)})) {
    return found;
  }
  return check_neighbours(photo);
}

}  // namespace

std::string small_size_words(SizeName name) { return lower_first(size_words(name)); }

std::string photo_words(const EstimateInput& input, std::size_t photo) {
  return "photo " + std::to_string(input.photos[photo].number.value_or(photo) + 1);
}

Problem in_photo(const EstimateInput& input, std::size_t photo, Problem problem) {
  if (input.photos.size() > 1) {
    problem.what = upper_first(photo_words(input, photo)) + ": " + lower_first(problem.what);
  }
  return problem;
}

std::string reference_words(std::size_t number) {
  return "reference " + std::to_string(number + 1);
}

Result<Done> check_input(const EstimateInput& input) {
  if (input.photos.empty()) {
    return Problem{Code::kCannotBeAnswered, "There is no photograph to measure.",
                   "Add one, and mark the vessel on it.", ""};
  }
  if (auto found = check_numbers(input)) return *found;
  if (auto found = check_hidden(input)) return *found;
  std::vector<Note> notes;
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    const PhotoInput& photo = input.photos[v];
    if (auto found = check_photo(input, photo)) return in_photo(input, v, *found);
    const Marks& marks = photo.marks;
    if (marks.left.empty() || marks.right.empty()) {
      const std::string side = marks.left.empty() ? "right" : "left";
      notes.push_back({(input.photos.size() > 1 ? upper_first(photo_words(input, v)) + ": only the "
                                                : std::string("Only the ")) +
                           side +
                           " outline is marked, so the sizes are less certain. Mark the "
                           "other side too if it can be seen.",
                       true});
    }
  }
  return {Done{}, std::move(notes)};
}

}  // namespace potshadow::internal
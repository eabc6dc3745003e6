// SPDX-License-Identifier: MIT
#include "estimate/flat.h"

#include <cmath>

namespace potshadow::internal {
namespace {

// Where the middle of a reference is its origin, points are counted from there.
double from_left(Place place) { return place == Place::kBeside ? 0.5 : 0.0; }

Flat flat_of(const RectangleReference& r) {
  Flat flat;
  flat.seat = r;
  flat.width_mm = r.width_mm;
  flat.height_mm = r.height_mm;
  flat.size_sd_mm = r.size_sd_mm;
  const double shift = from_left(r.place);
  for (std::size_t k = 0; k < 4; ++k) {
    flat.points.push_back(
        {r.corners[k], (k == 1 || k == 2 ? 1.0 : 0.0) - shift, (k >= 2 ? 1.0 : 0.0) - shift});
  }
  return flat;
}

Flat flat_of(const LengthReference& r) {
  Flat flat;
  flat.kind = FlatKind::kLength;
  flat.point_word = "end";
  flat.seat = r;
  flat.size_sd_mm = r.size_sd_mm;
  if (r.place == Place::kStanding || r.place == Place::kLeaning) {
    flat.height_mm = r.length_mm;
    flat.points = {{r.ends[0], 0.0, 0.0}, {r.ends[1], 0.0, 1.0}};
    return flat;
  }
  const double shift = from_left(r.place);
  flat.width_mm = r.length_mm;
  flat.points = {{r.ends[0], -shift, 0.0}, {r.ends[1], 1.0 - shift, 0.0}};
  // Nobody holds a bar quite square to the view: within some 8 degrees, which takes a hundredth off
  // its length (common practice, no source).
  constexpr double kAslant = 0.01;
  if (r.place == Place::kBeside) {
    flat.size_sd_mm = std::hypot(flat.size_sd_mm, kAslant * r.length_mm);
  }
  return flat;
}

Flat flat_of(const GridReference& r) {
  Flat flat;
  flat.kind = FlatKind::kGrid;
  flat.point_word = "crossing";
  flat.seat = r;
  flat.width_mm = r.pitch_mm;
  flat.size_sd_mm = r.size_sd_mm;
  double middle_across = 0.0;
  double middle_up = 0.0;
  if (r.place == Place::kBeside && r.crossings.size() > 2) {
    middle_across = (r.crossings[0].column + r.crossings[2].column) / 2.0;
    middle_up = (r.crossings[0].row + r.crossings[2].row) / 2.0;
  }
  for (const GridReference::Crossing& crossing : r.crossings) {
    flat.points.push_back({crossing.at, crossing.column - middle_across, crossing.row - middle_up});
  }
  return flat;
}

}  // namespace

double marks_sd_px(const PhotoInput& photo, const FlatReference& seat) {
  return seat.marks_sd_px.value_or(photo.marks.sd_px);
}

std::vector<Flat> flats_of(const PhotoInput& photo) {
  std::vector<Flat> flats;
  for (const RectangleReference& r : photo.references) flats.push_back(flat_of(r));
  for (const LengthReference& r : photo.lengths) flats.push_back(flat_of(r));
  for (const GridReference& r : photo.grids) flats.push_back(flat_of(r));
  for (Flat& flat : flats) flat.marks_sd_px = marks_sd_px(photo, flat.seat);
  return flats;
}

Offset offset_of(const FlatReference& seat) {
  if (seat.place == Place::kOnGlass) {
    const bool given = seat.glass_to_axis_mm > 0.0;
    return {seat.glass_to_axis_mm, seat.glass_to_axis_sd_mm, given};
  }
  if (seat.place == Place::kBeside) return {seat.depth_offset_mm, seat.depth_offset_sd_mm, true};
  return {seat.riser_mm, seat.riser_sd_mm, true};
}

std::vector<int> fixed_entries(const Flat& flat) {
  std::vector<int> fixed;
  const Place place = flat.seat.place;
  const bool length = flat.kind == FlatKind::kLength;
  // One upright line has no turn of its own; one beside the vessel is square to the view.
  if (length && (place == Place::kStanding || place == Place::kBeside)) fixed.push_back(kYawRad);
  if (place != Place::kLeaning && place != Place::kBeside) fixed.push_back(kLeanRad);
  if (flat.width_mm == 0.0 || flat.size_sd_mm == 0.0) fixed.push_back(kWidthMm);
  if (flat.height_mm == 0.0 || flat.size_sd_mm == 0.0) fixed.push_back(kHeightMm);
  const Offset offset = offset_of(flat.seat);
  if (offset.given && offset.sd_mm == 0.0) fixed.push_back(kOffsetMm);
  return fixed;
}

std::vector<Seam> seams_of(const PhotoInput& photo) {
  std::vector<Seam> seams;
  const auto take = [&](const FlatReference& seat, bool of_disc, std::size_t index) {
    if (seat.place == Place::kOnGlass && seat.shelf_at_glass) {
      seams.push_back({seat, of_disc, index});
    }
  };
  const std::vector<Flat> flats = flats_of(photo);
  for (std::size_t i = 0; i < flats.size(); ++i) take(flats[i].seat, false, i);
  for (std::size_t d = 0; d < photo.discs.size(); ++d) take(photo.discs[d], true, d);
  return seams;
}

}  // namespace potshadow::internal

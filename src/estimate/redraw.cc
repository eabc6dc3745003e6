// SPDX-License-Identifier: MIT
#include "estimate/redraw.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "estimate/flat.h"
#include "estimate/matching.h"
#include "estimate/task.h"
#include "photo/focal.h"

namespace potshadow::internal {
namespace {

BroadLines broad_lines_of(const Overlay& overlay) {
  BroadLines seen;
  const std::vector<PhotoPoint>& axis = overlay.axis.points;
  if (axis.size() < 2) return seen;
  seen.foot_centre = axis.front();
  seen.rim_centre = axis.back();
  const double x = seen.rim_centre.x_px - seen.foot_centre.x_px;
  const double y = seen.rim_centre.y_px - seen.foot_centre.y_px;
  const double length = std::hypot(x, y);
  if (length > 0.0) {
    seen.along_x = x / length;
    seen.along_y = y / length;
  }
  for (const OverlayLine& line : overlay.rim) {
    for (const PhotoPoint& point : line.points) {
      seen.rim_across_px =
          std::max(seen.rim_across_px, std::abs(seen.across(seen.rim_centre, point)));
      seen.rim_along_px = std::max(seen.rim_along_px, std::abs(seen.along(seen.rim_centre, point)));
    }
  }
  return seen;
}

}  // namespace

double widening(const Answer& first) {
  const double allowed = 1.0 + 2.0 / std::sqrt(2.0 * std::max(1, first.fit.marks));
  return first.fit.scatter_ratio > allowed ? first.fit.scatter_ratio : 1.0;
}

Redraw::Redraw(const EstimateInput& input, const Answer& first) : input_(input) {
  for (std::size_t v = 0; v < input.photos.size(); ++v) {
    const PhotoInput& photo = input.photos[v];
    Photo& of = photos_.emplace_back();
    of.seen = broad_lines_of(first.photos[v].overlay);
    of.focal_px =
        focal_px_from_35mm(first.photos[v].camera.focal_35mm, photo.width_px, photo.height_px);
    of.widening = widening(first);
    // A cut-out's principal point is too far off to be followed from nearby.
    of.centre_sd_px = photo.cropped ? 0.0 : priors_of(photo).centre_sd_px;
  }
}

EstimateInput Redraw::drawn(DrawRandom& random, double size) const {
  const auto off = [&](double sd) { return size * sd * random.normal(); };
  EstimateInput out = input_;
  out.wall_mm = std::max(0.0, out.wall_mm + off(out.wall_sd_mm));
  // The vessel is oval in one way, however often it is photographed; and one camera's focal
  // length is off by as much in each of its photographs.
  const double round = out.out_of_round_percent / 100.0;
  Oval oval{{off(round), off(round)}, {}, {}};
  for (std::size_t k = 0; k < 2; ++k) {
    oval.foot[k] = oval.body[k] + off(kOwnOval * round);
    oval.rim[k] = oval.body[k] + off(kOwnOval * round);
  }
  std::map<int, double> focal_off;
  for (std::size_t v = 0; v < out.photos.size(); ++v) {
    PhotoInput& photo = out.photos[v];
    double part = off(1.0);
    if (photo.same_lens) part = focal_off.emplace(*photo.same_lens, part).first->second;
    draw_photo(random, size, photos_[v], oval, part, photo);
  }
  return out;
}

void Redraw::draw_photo(DrawRandom& random, double size, const Photo& of, const Oval& oval,
                        double focal_part, PhotoInput& photo) {
  const auto off = [&](double sd) { return size * sd * random.normal(); };
  if (photo.focal) {
    photo.focal->focal_35mm *= std::exp(focal_part * photo.focal->sd_percent / 100.0);
  }
  if (photo.glass) {
    photo.glass->thickness_mm =
        std::max(0.0, photo.glass->thickness_mm + off(photo.glass->thickness_sd_mm));
  }
  const double twice = 2.0 * photo.direction_deg * std::numbers::pi / 180.0;
  const double c = std::cos(twice);
  const double s = std::sin(twice);
  widen_body(of.seen, c * oval.body[0] + s * oval.body[1], photo.marks);
  const auto widen = [&](const std::array<double, 2>& part, const PhotoPoint& centre,
                         std::vector<PhotoPoint>& marks) {
    widen_ring(of.seen, centre, c * part[0] + s * part[1], c * part[1] - s * part[0], marks);
  };
  widen(oval.foot, of.seen.foot_centre, photo.marks.base);
  widen(oval.rim, of.seen.rim_centre, photo.marks.rim);

  for (RectangleReference& reference : photo.references) {
    reference.width_mm = moved_length(reference.width_mm, off(reference.size_sd_mm));
    reference.height_mm = moved_length(reference.height_mm, off(reference.size_sd_mm));
    move_place(random, size, reference);
  }
  for (DiscReference& disc : photo.discs) {
    disc.diameter_mm = moved_length(disc.diameter_mm, off(disc.size_sd_mm));
    move_place(random, size, disc);
  }
  for (LengthReference& length : photo.lengths) {
    length.length_mm = moved_length(length.length_mm, off(length.size_sd_mm));
    move_place(random, size, length);
  }
  for (GridReference& grid : photo.grids) {
    grid.pitch_mm = moved_length(grid.pitch_mm, off(grid.size_sd_mm));
    move_place(random, size, grid);
  }
  for (NeighbourReference& neighbour : photo.neighbours) {
    neighbour.value_mm = moved_length(neighbour.value_mm, off(neighbour.sd_mm));
    neighbour.riser_mm += off(neighbour.riser_sd_mm);
  }
  for (KnownSize& known : photo.sizes) {
    known.value_mm = moved_length(known.value_mm, off(known.sd_mm));
  }
  for (KnownDistance& known : photo.distances) {
    known.value_mm = moved_length(known.value_mm, off(known.sd_mm));
  }

  // Marks that move together are a principal point that moves the other way; and marks that move
  // towards it by the cube of their distance are a distortion.
  const double k1 = off(photo.lens.k1_sd);
  const PhotoPoint shift{off(of.centre_sd_px), off(of.centre_sd_px)};
  const auto move = [&](PhotoPoint& mark, double stated_sd_px) {
    const double sd_px = stated_sd_px * of.widening;
    const double x = mark.x_px - (photo.width_px - 1.0) / 2.0;
    const double y = mark.y_px - (photo.height_px - 1.0) / 2.0;
    const double bend = k1 * (x * x + y * y) / (of.focal_px * of.focal_px);
    mark.x_px += shift.x_px - bend * x + off(sd_px);
    mark.y_px += shift.y_px - bend * y + off(sd_px);
  };
  const auto move_vessel = [&](Marks& marks) {
    const std::vector<MarkRef> refs = mark_refs(marks);
    std::size_t next = 0;
    for (auto* list : {&marks.rim, &marks.base, &marks.left, &marks.right}) {
      for (PhotoPoint& mark : *list) move(mark, refs[next++].sd_px);
    }
  };
  const auto move_line = [&](FlatReference& seat) {
    if (!seat.shelf_at_glass) return;
    for (PhotoPoint& mark : *seat.shelf_at_glass) move(mark, photo.marks.sd_px);
  };
  const auto move_points = [&](FlatReference& seat, auto& points) {
    const double sd_px = marks_sd_px(photo, seat);
    for (PhotoPoint& point : points) move(point, sd_px);
    move_line(seat);
  };
  move_vessel(photo.marks);
  for (auto& reference : photo.references) move_points(reference, reference.corners);
  for (auto& disc : photo.discs) move_points(disc, disc.edge);
  for (auto& length : photo.lengths) move_points(length, length.ends);
  for (auto& grid : photo.grids) {
    const double sd_px = marks_sd_px(photo, grid);
    for (GridReference::Crossing& crossing : grid.crossings) move(crossing.at, sd_px);
    move_line(grid);
  }
  for (auto& neighbour : photo.neighbours) move_vessel(neighbour.marks);
}

double Redraw::moved_length(double mm, double by_mm) {
  constexpr double kLeastPart = 0.1;  // no reference is so badly known
  return std::max(kLeastPart * mm, mm + by_mm);
}

void Redraw::move_place(DrawRandom& random, double size, FlatReference& seat) {
  const double off = size * random.normal();
  if (seat.place == Place::kOnGlass) {
    if (seat.glass_to_axis_mm > 0.0) {
      seat.glass_to_axis_mm = moved_length(seat.glass_to_axis_mm, off * seat.glass_to_axis_sd_mm);
    }
    if (seat.shelf_at_glass) seat.riser_mm += size * random.normal() * seat.riser_sd_mm;
  } else if (seat.place == Place::kBeside) {
    seat.depth_offset_mm += off * seat.depth_offset_sd_mm;
  } else {
    seat.riser_mm += off * seat.riser_sd_mm;
  }
}

void Redraw::widen_body(const BroadLines& seen, double part, Marks& marks) {
  for (auto* side : {&marks.left, &marks.right}) {
    for (PhotoPoint& mark : *side) {
      const double by = part * seen.across(seen.foot_centre, mark);
      mark.x_px -= by * seen.along_y;
      mark.y_px += by * seen.along_x;
    }
  }
}

void Redraw::widen_ring(const BroadLines& seen, const PhotoPoint& centre, double cos2, double sin2,
                        std::vector<PhotoPoint>& marks) {
  for (PhotoPoint& mark : marks) {
    const double angle = std::atan2(seen.along(centre, mark) / seen.rim_along_px,
                                    seen.across(centre, mark) / seen.rim_across_px);
    const double part = cos2 * std::cos(2.0 * angle) + sin2 * std::sin(2.0 * angle);
    mark.x_px += part * (mark.x_px - centre.x_px);
    mark.y_px += part * (mark.y_px - centre.y_px);
  }
}

}  // namespace potshadow::internal

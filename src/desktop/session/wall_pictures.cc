// SPDX-License-Identifier: MIT
#include "desktop/session/wall_pictures.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "photo/decode.h"
#include "photo/shown_picture.h"
#include "project/plan_report.h"

namespace potshadow {
namespace {

WallWish wall_wish(const SheetOrder& order, const MadeSize& made) {
  WallWish wish;
  if (order.wish.print.printed == Printed::kStrips) wish.parts = WallParts::kStrips;
  if (order.wish.print.printed == Printed::kBands) wish.parts = WallParts::kBands;
  wish.bands = painted_bands(order.source.measurement->project.bands);
  wish.front_rad = -std::numbers::pi / 2.0 + order.wish.unroll.front_deg * std::numbers::pi / 180.0;
  wish.size = {made.shrinkage.enlargement(SizeWay::kAcross),
               made.shrinkage.enlargement(SizeWay::kUpright)};
  wish.all_round = order.wish.unroll.all_round;
  wish.unit = order.wish.unit;
  return wish;
}

Result<std::vector<UnrollPhoto>> read_photos(const Measurement& measurement,
                                             const SheetWatch& watch) {
  std::vector<UnrollPhoto> photos;
  const std::size_t count = measurement.photo_indices.size();
  for (std::size_t i = 0; i < count; ++i) {
    if (watch.stop.stop_requested()) return work_stopped();
    watch.tell(count == 1
                   ? "Reading the photograph"
                   : "Reading photograph " + std::to_string(i + 1) + " of " + std::to_string(count),
               std::nullopt);
    const ProjectPhoto& photo = measurement.project.photos[measurement.photo_indices[i]];
    const Result<Picture> picture = decode_photo(photo.file);
    if (!picture) return picture.problem();
    photos.push_back(
        {turned_picture(*picture, photo.quarter_turns).bgr, measurement.answer.photos[i].view});
  }
  return photos;
}

// Whether both give the same pictures.
bool same_wall(const SheetOrder& a, const SheetOrder& b) {
  return a.source.measurement == b.source.measurement && a.wish.stage == b.wish.stage &&
         a.wish.unit == b.wish.unit && a.wish.print.printed == b.wish.print.printed &&
         a.wish.unroll.front_deg == b.wish.unroll.front_deg &&
         a.wish.unroll.all_round == b.wish.unroll.all_round;
}

std::string seen_of_all(const std::vector<FlatPart>& parts) {
  if (parts.size() == 1) return seen_words(parts[0]);
  std::vector<double> percents;
  for (const FlatPart& part : parts) percents.push_back(seen_percent(part));
  const auto [least, most] = std::minmax_element(percents.begin(), percents.end());
  return "Of each part " + fixed_text(*least, 0) + " to " + fixed_text(*most, 0) + " % is seen.";
}

double area_mm2(const std::vector<FlatPart>& parts) {
  double area = 0.0;
  for (const FlatPart& part : parts) {
    area += 2.0 * part.flat.half_turn_rad *
            std::max(part.flat.low_radius_mm, part.flat.high_radius_mm) * part.flat.slant_mm;
  }
  return area;
}

}  // namespace

Problem work_stopped() { return {Code::kCannotBeAnswered, "Stopped.", "Begin again.", ""}; }

Result<std::shared_ptr<const WallPictures>> WallStore::wall(const SheetOrder& order,
                                                            const MadeSize& made,
                                                            const SheetWatch& watch) {
  {
    const std::scoped_lock lock(mutex_);
    if (kept_ && same_wall(*kept_of_, order)) return kept_;
    kept_.reset();  // both together may be large
  }
  const Measurement& measurement = *order.source.measurement;
  const PaintedFace face(measurement.answer.profile, measurement.answer.oval);
  const WallWish wish = wall_wish(order, made);
  Result<std::vector<FlatPart>> laid = wall_parts(face, wish);
  if (!laid) return laid.problem();
  std::vector<FlatPart> parts = std::move(laid).value();
  if (parts.empty()) {
    return Problem{Code::kCannotBeAnswered, "The project has no painted band with two lines.",
                   "Add one in the step Plan, or choose the painting as strips.", ""};
  }
  const Result<std::vector<UnrollPhoto>> photos = read_photos(measurement, watch);
  if (!photos) return photos.problem();
  const double fineness = std::min(own_fineness(*photos, face, wish.size),
                                   std::sqrt(kMostWallPixels / area_mm2(parts)));
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (watch.stop.stop_requested()) return work_stopped();
    watch.tell("Unrolling " + lower_first(parts[i].name),
               static_cast<double>(i) / static_cast<double>(parts.size()));
    const Result<Done> added = add_picture(face, wish, *photos, fineness, parts[i]);
    if (!added) return added.problem();
  }
  std::vector<Note> notes{{seen_of_all(parts), false}};
  if (photos->size() > 1) {
    notes.push_back({"Blended from " + std::to_string(photos->size()) + " photographs.", false});
  }
  auto wall = std::make_shared<const WallPictures>(
      WallPictures{face, wish, std::move(parts), std::move(notes)});
  if (watch.stop.stop_requested()) return work_stopped();
  const std::scoped_lock lock(mutex_);
  kept_ = wall;
  kept_of_ = order;
  return wall;
}

void WallStore::forget() {
  const std::scoped_lock lock(mutex_);
  kept_.reset();
  kept_of_.reset();
}

std::vector<Pattern> wall_pieces(const WallPictures& wall, int repeats) {
  std::vector<Pattern> pieces;
  for (FlatPart part : wall.parts) {
    if (repeats > 0) part.repeats = repeats;
    pieces.push_back(piece_of(wall.face, wall.wish, part));
  }
  return pieces;
}

Pattern with_stripes(Pattern piece, const Development& flat) {
  constexpr double kApartMm = 4.0;
  constexpr double kWideMm = 1.6;
  constexpr double kOutlineMm = 0.1;
  // Stripes rise at 45 degrees: x - y is the same all along one. Where its two sides cross the
  // outline they are cut, in pairs.
  const std::vector<FlatPoint> outline = flat.outline(kOutlineMm);
  const auto cuts = [&](double level) {
    std::vector<double> heights;
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const FlatPoint& a = outline[i];
      const FlatPoint& b = outline[(i + 1) % outline.size()];
      const double from = a.x_mm - a.y_mm - level;
      const double to = b.x_mm - b.y_mm - level;
      if ((from < 0.0) == (to < 0.0)) continue;
      heights.push_back(a.y_mm + (b.y_mm - a.y_mm) * from / (from - to));
    }
    std::sort(heights.begin(), heights.end());
    return heights;
  };
  double least = 0.0;
  double most = 0.0;
  for (const FlatPoint& p : outline) {
    least = std::min(least, p.x_mm - p.y_mm);
    most = std::max(most, p.x_mm - p.y_mm);
  }
  for (double level = least; level < most; level += kApartMm) {
    const std::vector<double> low = cuts(level);
    const std::vector<double> high = cuts(level + kWideMm);
    if (low.size() != high.size()) continue;
    for (std::size_t i = 0; i + 1 < low.size(); i += 2) {
      const auto at = [](double along, double y) { return PatternPoint{along + y, y}; };
      piece.areas.push_back({{at(level, low[i]), at(level, low[i + 1]),
                              at(level + kWideMm, high[i + 1]), at(level + kWideMm, high[i])}});
    }
  }
  return piece;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include <algorithm>
#include <utility>

#include "clay/plan_parts.h"
#include "patterns/curves.h"
#include "patterns/pieces.h"

namespace potshadow::internal {
namespace {

constexpr double kArmMm = 26.0;     // how far the arm rests on the cradle's edge
constexpr double kHandleMm = 24.0;  // of the template above the line

// The outer face from the foot up to the line.
std::vector<ProfilePoint> below_line(const Profile& profile, double line) {
  std::vector<ProfilePoint> below;
  for (const ProfilePoint& p : traced(profile, kPatternToleranceMm)) {
    if (p.height_mm < line) {
      below.push_back(p);
      continue;
    }
    if (!below.empty()) {
      const ProfilePoint& last = below.back();
      const double part = (line - last.height_mm) / (p.height_mm - last.height_mm);
      below.push_back({last.radius_mm + part * (p.radius_mm - last.radius_mm), line});
    }
    break;
  }
  return below;
}

}  // namespace

Result<std::vector<Pattern>> cradle_pieces(const PatternVessel& vessel,
                                           const PatternChoices& choices) {
  const Profile profile = vessel.to_make();
  const Result<Wall> wall = wall_of(profile, vessel.wall);
  if (!wall) return wall.problem();
  const Result<Cradle> cradle = cradle_of(*wall, profile, choices.cradle_mm);
  if (!cradle) return cradle.problem();
  const double line = cradle->line_mm;
  const std::vector<ProfilePoint> face = below_line(profile, line);
  const double mouth = cradle->diameter_mm / 2.0;
  const double top = line + kHandleMm;

  Pattern piece;
  piece.name = "Cradle template";
  std::vector<PatternPoint> cut;
  if (!choices.whole) cut.push_back({0.0, 0.0});
  for (const ProfilePoint& p : face) cut.push_back({p.radius_mm, p.height_mm});
  cut.push_back({mouth + kArmMm, line});
  cut.push_back({mouth + kArmMm, top});
  if (choices.whole) {
    const std::vector<PatternPoint> right = cut;
    for (auto p = right.rbegin(); p != right.rend(); ++p) cut.push_back({-p->x_mm, p->y_mm});
  } else {
    cut.push_back({0.0, top});
  }
  piece.paths.push_back({std::move(cut), PatternLine::kCut, true});
  add_line(piece, {choices.whole ? -mouth : 0.0, line}, {mouth, line}, PatternLine::kFaint);
  if (choices.whole) add_line(piece, {0.0, 0.0}, {0.0, top}, PatternLine::kCentre);
  constexpr double kTextSizeMm = 2.8;
  const double x = choices.whole ? -mouth + 6.0 : 4.0;
  const auto length = [&](double mm) {
    return fixed_text(in_unit(Mm{mm}, vessel.unit), vessel.unit == LengthUnit::kMm ? 0 : 1) + " " +
           std::string(unit_name(vessel.unit));
  };
  add_text(piece, "Cradle (puki)", {x, top - 6.0}, 3.6).bold = true;
  PatternText& words = add_text(piece, vessel.words, {x, top - 11.0}, kTextSizeMm);
  words.most_width_mm = (choices.whole ? 2.0 : 1.0) * mouth + kArmMm - 8.0;
  add_text(piece, "Mouth ø " + length(2.0 * mouth) + ", depth " + length(line), {x, top - 16.0},
           kTextSizeMm);
  add_text(piece, "The arm rests on the cradle's edge.", {x, top - 21.0}, kTextSizeMm);
  if (!choices.whole) {
    PatternText& axis = add_text(piece, "centre line", {3.4, 3.0}, 2.6);
    axis.upwards = true;
    axis.quiet = true;
    axis.most_width_mm = line - 4.0;
    if (choices.left_handed) piece = mirrored(std::move(piece));
  }
  return std::vector<Pattern>{std::move(piece)};
}

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
#include <algorithm>

#include "patterns/curves.h"
#include "patterns/inner_face.h"
#include "patterns/pieces.h"

namespace potshadow::internal {
namespace {

constexpr double kFlangeMm = 10.0;  // how far a lid's flange reaches into the mouth
constexpr double kRingMm = 22.0;
constexpr double kLeastMouthMm = 24.0;

std::string diameter(double radius, LengthUnit unit) {
  return "ø " + fixed_text(in_unit(Mm{2.0 * radius}, unit), unit == LengthUnit::kMm ? 1 : 2) + " " +
         std::string(unit_name(unit));
}

void write(Pattern& piece, double bottom, const std::vector<std::string>& lines) {
  double y = bottom;
  for (std::size_t i = lines.size(); i-- > 0;) {
    PatternText& text = add_text(piece, lines[i], {0.0, y}, i == 0 ? 3.4 : 2.7);
    text.align = PatternAlign::kCentre;
    text.bold = i == 0;
    y += 4.6;
  }
}

Pattern half_disc(const std::string& name, double radius, const std::vector<std::string>& lines) {
  Pattern piece;
  piece.name = name;
  piece.paths.push_back({arc_points(radius, {0.0, 180.0}), PatternLine::kCut, true});
  add_line(piece, {0.0, radius - 5.0}, {0.0, radius}, PatternLine::kMark);
  write(piece, 3.0, lines);
  for (PatternText& text : piece.texts) text.most_width_mm = 1.7 * radius;
  return piece;
}

}  // namespace

Result<std::vector<Pattern>> lid_pieces(const PatternVessel& vessel,
                                        const PatternChoices& choices) {
  const Result<std::vector<ProfilePoint>> face = inner_face(vessel.to_make(), vessel.wall);
  if (!face) return face.problem();
  const double high = face->back().height_mm;
  double mouth = face->back().radius_mm;
  for (const ProfilePoint& p : *face) {
    if (p.height_mm > high - kFlangeMm) mouth = std::min(mouth, p.radius_mm);
  }
  const double flange = mouth - choices.lid_clearance_mm;
  if (2.0 * flange < kLeastMouthMm) {
    return Problem{Code::kCannotBeAnswered,
                   "The mouth is " + fixed_text(std::max(2.0 * mouth, 0.0), 0) +
                       " mm wide inside, too narrow for a lid with a flange.",
                   "Leave the lid out, or give a thinner wall or a smaller clearance.", ""};
  }
  const double rim = vessel.to_make().at(1.0).radius_mm;
  const LengthUnit unit = vessel.unit;
  std::vector<Pattern> pieces;
  pieces.push_back(half_disc("Mouth gauge", mouth,
                             {"Mouth, inside: " + diameter(mouth, unit),
                              "across the mouth, to touch on both sides", vessel.words}));
  pieces.push_back(half_disc(
      "Lid", rim,
      {"Lid: " + diameter(rim, unit), "half of its disc, as wide as the rim", vessel.words}));
  Pattern ring;
  ring.name = "Half ring for the lid's flange";
  PatternPath path{arc_points(flange, {0.0, 180.0}), PatternLine::kCut, true};
  const std::vector<PatternPoint> outer = arc_points(flange + kRingMm, {180.0, 0.0});
  path.points.insert(path.points.end(), outer.begin(), outer.end());
  ring.paths.push_back(std::move(path));
  add_line(ring, {0.0, flange}, {0.0, flange + 5.0}, PatternLine::kMark);
  write(ring, flange + 6.6, {"Lid's flange", diameter(flange, unit)});
  pieces.push_back(ring);
  pieces.push_back(std::move(ring));
  return pieces;
}

}  // namespace potshadow::internal

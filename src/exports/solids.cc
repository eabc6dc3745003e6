// SPDX-License-Identifier: MIT
#include "exports/solids.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "clay/plan_parts.h"
#include "patterns/curves.h"
#include "patterns/inner_face.h"

namespace potshadow {
namespace {

// A curve's own pieces and the circle's take half of the error each.
constexpr double kShare = 0.5;
constexpr double kMouldWallMm = 25.0;   // plaster that holds, round the mouth
constexpr double kMouldFloorMm = 20.0;  // and below the foot

Result<std::vector<ProfilePoint>> mould_section(const PatternVessel& vessel,
                                                const PatternChoices& choices, double tolerance) {
  const Profile profile = vessel.to_make();
  const Result<Wall> wall = wall_of(profile, vessel.wall);
  if (!wall) return wall.problem();
  const Result<Cradle> cradle = cradle_of(*wall, profile, choices.cradle_mm);
  if (!cradle) return cradle.problem();
  const double line = cradle->line_mm;
  const double mouth = cradle->diameter_mm / 2.0;
  const double side = mouth + kMouldWallMm;
  std::vector<ProfilePoint> section{
      {0.0, -kMouldFloorMm}, {side, -kMouldFloorMm}, {side, line}, {mouth, line}};
  const std::vector<ProfilePoint> face = traced(profile, tolerance);
  for (auto p = face.rbegin(); p != face.rend(); ++p) {
    if (p->height_mm < line) section.push_back(*p);
  }
  section.push_back({0.0, face.front().height_mm});
  return section;
}

// The piece's outline and the holes in it.
Result<Mesh> plate_of(PatternKind kind, const PatternVessel& vessel, const PatternChoices& patterns,
                      double thick) {
  PatternChoices one = patterns;
  one.whole = false;
  const Result<std::vector<Pattern>> pieces = patterns_of(kind, vessel, one);
  if (!pieces) return pieces.problem();
  std::vector<std::vector<PatternPoint>> loops;
  for (const PatternPath& path : pieces->front().paths) {
    if (path.line == PatternLine::kCut && path.closed) loops.push_back(path.points);
  }
  const std::vector<std::vector<PatternPoint>> holes(loops.begin() + 1, loops.end());
  return plate(loops.front(), holes, thick);
}

}  // namespace

std::optional<SolidKind> solid_kind(std::string_view word) {
  constexpr std::array<std::pair<std::string_view, SolidKind>, 5> kWords{
      {{"vessel", SolidKind::kVessel},
       {"outside", SolidKind::kOutside},
       {"cradle", SolidKind::kCradle},
       {"rib", SolidKind::kRib},
       {"profile", SolidKind::kProfile}}};
  for (const auto& [known, kind] : kWords) {
    if (known == word) return kind;
  }
  return std::nullopt;
}

Result<Mesh> solid_of(SolidKind kind, const PatternVessel& vessel, const PatternChoices& patterns,
                      const SolidChoices& choices) {
  constexpr double kFinestMm = 0.001;
  constexpr double kCoarsestMm = 5.0;
  if (!(choices.tolerance_mm >= kFinestMm && choices.tolerance_mm <= kCoarsestMm)) {
    return Problem{Code::kBadValue,
                   "Facets cannot keep within " + fixed_text(choices.tolerance_mm, 4) + " mm.",
                   "Give a facet error from 0.001 to 5 mm.", ""};
  }
  constexpr double kThickestMm = 100.0;
  if (!(choices.plate_mm >= 0.1 && choices.plate_mm <= kThickestMm)) {
    return Problem{Code::kBadValue,
                   "A plate cannot be " + fixed_text(choices.plate_mm, 2) + " mm thick.",
                   "Give its thickness from 0.1 to 100 mm.", ""};
  }
  const double tolerance = kShare * choices.tolerance_mm;
  switch (kind) {
    case SolidKind::kRib:
      return plate_of(PatternKind::kRib, vessel, patterns, choices.plate_mm);
    case SolidKind::kProfile:
      return plate_of(PatternKind::kProfile, vessel, patterns, choices.plate_mm);
    case SolidKind::kCradle: {
      const Result<std::vector<ProfilePoint>> section = mould_section(vessel, patterns, tolerance);
      if (!section) return section.problem();
      return turned_solid(*section, tolerance);
    }
    case SolidKind::kOutside: {
      std::vector<ProfilePoint> section = traced(vessel.to_make(), tolerance);
      const double rim = section.back().height_mm;
      const double base = section.front().height_mm;
      section.push_back({0.0, rim});
      section.insert(section.begin(), ProfilePoint{0.0, base});
      return turned_solid(section, tolerance);
    }
    case SolidKind::kVessel:
      break;
  }
  const Result<std::vector<ProfilePoint>> section =
      wall_section(vessel.to_make(), vessel.wall, tolerance);
  if (!section) return section.problem();
  return turned_solid(*section, tolerance);
}

}  // namespace potshadow

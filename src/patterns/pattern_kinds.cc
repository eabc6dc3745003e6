// SPDX-License-Identifier: MIT
#include "patterns/pattern_kinds.h"

#include <array>
#include <utility>

#include "patterns/gauge.h"
#include "patterns/pieces.h"

namespace potshadow {
namespace {

struct KindWords {
  PatternKind kind;
  std::string_view word;
  std::string_view title;
};

constexpr std::array<KindWords, kPatternKinds> kKinds{{
    {PatternKind::kProfile, "profile", "Profile gauge"},
    {PatternKind::kRib, "rib", "Inside rib"},
    {PatternKind::kRings, "rings", "Ring gauges"},
    {PatternKind::kStick, "stick", "Height stick"},
    {PatternKind::kCradle, "cradle", "Cradle template"},
    {PatternKind::kLid, "lid", "Lid seat"},
    {PatternKind::kSection, "section", "Section drawing"},
}};

const KindWords& words_of(PatternKind kind) { return kKinds.at(static_cast<std::size_t>(kind)); }

}  // namespace

std::string_view pattern_word(PatternKind kind) { return words_of(kind).word; }
std::string_view pattern_title(PatternKind kind) { return words_of(kind).title; }

std::optional<PatternKind> pattern_kind(std::string_view word) {
  for (const KindWords& words : kKinds) {
    if (words.word == word) return words.kind;
  }
  return std::nullopt;
}

namespace internal {

std::vector<PatternPoint> pattern_points(const std::vector<ProfilePoint>& points) {
  std::vector<PatternPoint> out;
  out.reserve(points.size());
  for (const ProfilePoint& p : points) out.push_back({p.radius_mm, p.height_mm});
  return out;
}

Result<std::vector<Pattern>> profile_pieces(const PatternVessel& vessel,
                                            const PatternChoices& choices) {
  const Result<Gauge> gauge = gauge_of(vessel.fired, vessel.band, vessel.shrinkage);
  if (!gauge) return gauge.problem();
  GaugeWishes wishes{vessel.unit, choices.whole, vessel.words};
  Pattern right = gauge_pattern(*gauge, wishes);
  if (!choices.whole) {
    if (choices.left_handed) right = mirrored(std::move(right));
    return std::vector<Pattern>{std::move(right)};
  }
  Pattern left = mirrored(right);
  right.name += ", right half";
  left.name += ", left half";
  return std::vector<Pattern>{std::move(left), std::move(right)};
}

}  // namespace internal

Result<std::vector<Pattern>> patterns_of(PatternKind kind, const PatternVessel& vessel,
                                         const PatternChoices& choices) {
  // Judges the vessel's extent and its band for every kind.
  const Result<Gauge> gauge = gauge_of(vessel.fired, vessel.band, vessel.shrinkage);
  if (!gauge) return gauge.problem();
  switch (kind) {
    case PatternKind::kProfile:
      return internal::profile_pieces(vessel, choices);
    case PatternKind::kRib:
      return internal::rib_pieces(vessel, choices);
    case PatternKind::kRings:
      return internal::ring_pieces(vessel, choices);
    case PatternKind::kStick:
      return internal::stick_pieces(vessel);
    case PatternKind::kCradle:
      return internal::cradle_pieces(vessel, choices);
    case PatternKind::kLid:
      return internal::lid_pieces(vessel, choices);
    case PatternKind::kSection:
      break;
  }
  return internal::section_pieces(vessel, choices);
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The kinds of patterns that a vessel is made by, and what they are drawn from.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "clay/shrinkage.h"
#include "clay/wall.h"
#include "core/measured.h"
#include "core/result.h"
#include "core/text.h"
#include "patterns/band.h"
#include "patterns/pattern.h"
#include "vessel/profile.h"

// All patterns but the section are at the size to make: the original's, enlarged for the clay. The
// section shows the original itself, at a stated scale.
namespace potshadow {

enum class PatternKind {
  kProfile,  // a gauge held against the outside
  kRib,      // a rib that gives the inside its form
  kRings,    // gauges laid round rim, neck, widest place and foot
  kStick,    // the height of every feature
  kCradle,   // the form of the cradle (puki) that the lower part is pressed into
  kLid,      // what a lid must fit
  kSection   // the drawing: section on the left, exterior on the right
};
inline constexpr std::size_t kPatternKinds = 7;

// Returns the word for it on the command line, "profile" ..., and in a heading, "Profile gauge" ...
std::string_view pattern_word(PatternKind kind);
std::string_view pattern_title(PatternKind kind);
std::optional<PatternKind> pattern_kind(std::string_view word);

enum class FeaturePlace { kFoot, kWidest, kNeck, kRim };

// A place of the vessel at the size to make; the rim is also the widest place of an open vessel.
struct PatternFeature {
  FeaturePlace place = FeaturePlace::kRim;
  std::string name;  // "rim", "rim, widest"
  Measured height;
  std::optional<Measured> diameter;
};

// What a vessel's patterns are drawn from.
struct PatternVessel {
  Profile fired;                           // the original's
  std::vector<ProfileBandRow> band;        // may be empty
  TotalShrinkage shrinkage;                // from the stage to make it at
  WallThickness wall;                      // at the size to make
  std::vector<PatternFeature> features{};  // from the bench up
  LengthUnit unit = LengthUnit::kMm;
  std::string words{};                        // on every piece: "Shelf jar · wet size"
  std::vector<std::string> original_sizes{};  // under the section: "Height 235.2 ± 2.8 mm"

  Profile to_make() const {
    return fired.scaled(shrinkage.enlargement(SizeWay::kAcross),
                        shrinkage.enlargement(SizeWay::kUpright));
  }
};

struct PatternChoices {
  bool left_handed = false;
  bool whole = false;                 // both sides, or whole rings where they slip on
  std::optional<double> cradle_mm{};  // height of the cradle's line; chosen as a plan does
  double lid_clearance_mm = 1.5;      // between the lid's flange and the mouth, all round
  double section_scale = 1.0;         // 0.5 for 1:2
};

// Returns the pieces of a kind. Fails with kBadValue (a vessel without extent, a wall too thick)
// and kCannotBeAnswered (a rib that would not go through the mouth, a cradle above the widest
// place, no diameter to make a ring for).
Result<std::vector<Pattern>> patterns_of(PatternKind kind, const PatternVessel& vessel,
                                         const PatternChoices& choices);

}  // namespace potshadow

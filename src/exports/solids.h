// SPDX-License-Identifier: MIT
// The solids that can be exported: the vessel, its cradle's mould, and ribs as plates.
#pragma once

#include <optional>
#include <string_view>

#include "core/result.h"
#include "exports/mesh.h"
#include "patterns/pattern_kinds.h"

namespace potshadow {

enum class SolidKind {
  kVessel,   // with its wall: what the pot is
  kOutside,  // filled up to the rim: what its outer surface encloses
  kCradle,   // the mould that the lower part is pressed into
  kRib,      // the inside rib as a plate
  kProfile   // the profile gauge as a plate
};

// Returns the solid a word asks for: "vessel", "outside", "cradle", "rib", "profile".
std::optional<SolidKind> solid_kind(std::string_view word);

struct SolidChoices {
  double tolerance_mm = 0.05;  // no part of the surface lies farther from the true one
  double plate_mm = 3.0;
};

// Returns the solid at the size to make, a watertight surface in millimetres. Fails as patterns_of
// and turned_solid do, and with kBadValue for a tolerance or a plate out of reason.
Result<Mesh> solid_of(SolidKind kind, const PatternVessel& vessel, const PatternChoices& patterns,
                      const SolidChoices& choices);

}  // namespace potshadow

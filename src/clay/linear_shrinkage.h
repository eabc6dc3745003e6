// SPDX-License-Identifier: MIT
// Linear shrinkage from one stage of a pot to a later one, with the length it is counted on.
#pragma once

#include <optional>
#include <string_view>

#include "core/measured.h"

// Model: S = (length before - length after) / length before. The basis is always the length at the
// EARLIER stage, `from`: a firing shrinkage is a part of the dry length, a total one of the wet
// length. Shrinkages are put together by the product rule 1 - (1 - a)(1 - b) and never added.
// `half95` is half the 95 % interval, wider than 1.96 sd where few bars tell the scatter.
// Source: ASTM C326-03 for drying and total shrinkage; firing shrinkage on the dry length is common
// usage.
namespace potshadow {

enum class Stage { kWet, kLeatherHard, kBoneDry, kFired };

// Which way of the pot a length runs: coils and slabs can shrink more one way than the other.
enum class SizeWay { kUpright, kAcross };

struct LinearShrinkage {
  Stage from = Stage::kWet;
  Stage to = Stage::kFired;
  double fraction = 0.0;  // of the length at `from`; below 0 where it grows
  double sd = 0.0;
  double half95 = 0.0;
  friend bool operator==(const LinearShrinkage&, const LinearShrinkage&) = default;
};

// Returns a shrinkage that is normally distributed.
LinearShrinkage normal_shrinkage(Stage from, Stage to, double fraction, double sd);

// Returns the shrinkage over both, by the product rule. Requires first.to == second.from.
LinearShrinkage then(const LinearShrinkage& first, const LinearShrinkage& second);

// Return what is left of `whole` after, or before, a part of it: 1 - (1 - S) / (1 - part). The two
// count as independent, which is on the safe side where the same bars gave both. Require
// whole.from == part.from, or whole.to == part.to.
LinearShrinkage rest_after(const LinearShrinkage& whole, const LinearShrinkage& part);
LinearShrinkage rest_before(const LinearShrinkage& whole, const LinearShrinkage& part);

// Returns the length at `from` that comes to `after`, both uncertainties taken in: after / (1 - S).
Measured length_before(const Measured& after, const LinearShrinkage& shrinkage);

// Returns the length that `before` comes to: before (1 - S).
Measured length_after(const Measured& before, const LinearShrinkage& shrinkage);

// Returns the area at `from` that comes to `after`: after / (1 - S)^2.
Measured area_before(const Measured& after, const LinearShrinkage& shrinkage);

// Returns the volume at `from` that comes to `after`: after / (1 - S)^3.
Measured volume_before(const Measured& after, const LinearShrinkage& shrinkage);

// Returns "wet", "leather-hard", "bone-dry" or "fired"; as keys with "_" for "-".
std::string_view stage_words(Stage stage);
std::string_view stage_key(Stage stage);
// Returns the stage of a key, or none.
std::optional<Stage> stage_of_key(std::string_view key);

}  // namespace potshadow

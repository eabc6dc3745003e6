// SPDX-License-Identifier: MIT
#include "clay/linear_shrinkage.h"

#include <array>
#include <cmath>
#include <string>

#include "clay/carried.h"
#include "core/check.h"

namespace potshadow {
namespace {

struct StageName {
  std::string_view words;
  std::string_view key;
};
constexpr std::array<StageName, 4> kStageNames{{{"wet", "wet"},
                                                {"leather-hard", "leather_hard"},
                                                {"bone-dry", "bone_dry"},
                                                {"fired", "fired"}}};

// Returns 1 - (1 - S) / (1 - part) with the doubt of both.
LinearShrinkage rest(Stage from, Stage to, const LinearShrinkage& whole,
                     const LinearShrinkage& part) {
  const double left = 1.0 - part.fraction;
  const double by_part = (1.0 - whole.fraction) / (left * left);
  return {from, to, 1.0 - (1.0 - whole.fraction) / left,
          std::hypot(whole.sd / left, part.sd * by_part),
          std::hypot(whole.half95 / left, part.half95 * by_part)};
}

}  // namespace

LinearShrinkage normal_shrinkage(Stage from, Stage to, double fraction, double sd) {
  return {from, to, fraction, sd, kNormal95 * sd};
}

LinearShrinkage then(const LinearShrinkage& first, const LinearShrinkage& second) {
  POTSHADOW_CHECK(first.to == second.from);
  const double a = 1.0 - first.fraction;
  const double b = 1.0 - second.fraction;
  return {first.from, second.to, 1.0 - a * b, std::hypot(first.sd * b, second.sd * a),
          std::hypot(first.half95 * b, second.half95 * a)};
}

LinearShrinkage rest_after(const LinearShrinkage& whole, const LinearShrinkage& part) {
  POTSHADOW_CHECK(whole.from == part.from);
  return rest(part.to, whole.to, whole, part);
}

LinearShrinkage rest_before(const LinearShrinkage& whole, const LinearShrinkage& part) {
  POTSHADOW_CHECK(whole.to == part.to);
  return rest(whole.from, part.from, whole, part);
}

Measured length_before(const Measured& after, const LinearShrinkage& shrinkage) {
  const double e = 1.0 / (1.0 - shrinkage.fraction);
  // d before / d S = after / (1 - S)^2.
  const double slope = std::abs(after.value) * e * e;
  return carried(after, e, slope * shrinkage.sd, slope * shrinkage.half95);
}

Measured length_after(const Measured& before, const LinearShrinkage& shrinkage) {
  // d after / d S = -before.
  const double slope = std::abs(before.value);
  return carried(before, 1.0 - shrinkage.fraction, slope * shrinkage.sd, slope * shrinkage.half95);
}

Measured area_before(const Measured& after, const LinearShrinkage& shrinkage) {
  const double e = 1.0 / (1.0 - shrinkage.fraction);
  // d before / d S = 2 after / (1 - S)^3.
  const double slope = 2.0 * std::abs(after.value) * e * e * e;
  return carried(after, e * e, slope * shrinkage.sd, slope * shrinkage.half95);
}

Measured volume_before(const Measured& after, const LinearShrinkage& shrinkage) {
  const double e = 1.0 / (1.0 - shrinkage.fraction);
  // d before / d S = 3 after / (1 - S)^4.
  const double slope = 3.0 * std::abs(after.value) * e * e * e * e;
  return carried(after, e * e * e, slope * shrinkage.sd, slope * shrinkage.half95);
}

std::string_view stage_words(Stage stage) {
  return kStageNames.at(static_cast<std::size_t>(stage)).words;
}

std::string_view stage_key(Stage stage) {
  return kStageNames.at(static_cast<std::size_t>(stage)).key;
}

std::optional<Stage> stage_of_key(std::string_view key) {
  for (std::size_t i = 0; i < kStageNames.size(); ++i) {
    if (kStageNames.at(i).key == key) return static_cast<Stage>(i);
  }
  return std::nullopt;
}

}  // namespace potshadow

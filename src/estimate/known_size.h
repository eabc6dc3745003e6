// SPDX-License-Identifier: MIT
// Sizes of the vessel that are known beforehand, and a measured distance of the camera.
#pragma once

#include <ceres/cost_function.h>

#include <array>
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "core/result.h"
#include "estimate/input.h"
#include "estimate/size_name.h"
#include "estimate/state.h"
#include "vessel/profile.h"
#include "vessel/sizes.h"

// Internal to `estimate`. A size is read at its present place on the profile, where it is linear in
// the control points; at an extremum the place's own shift does not matter to first order (envelope
// theorem), so the place is held while derivatives are taken and found anew at every step.
namespace potshadow::internal {

// Where on the profile a size is read: `factor` times the radius (coordinate 0) or height (1)
// there.
struct SizePlace {
  double s = 0.0;
  std::size_t coordinate = 0;
  double factor = 1.0;
};

// Index into the controls (r0, z0, r1, ...) and what a millimetre of it adds to the size.
struct SizeTerm {
  std::size_t index = 0;
  double amount = 0.0;
};
using SizeTerms = std::array<SizeTerm, 4>;

// Returns the terms of a size at a place on a profile of `count` control points.
SizeTerms size_terms(const SizePlace& place, std::size_t count);

// Returns whether the scale can be taken from this size: the height, or one of the four diameters.
bool can_give_scale(SizeName name);

// Returns where a size is read that can give the scale; none where the vessel has no neck.
std::optional<SizePlace> size_place(SizeName name, const Sizes& sizes);

// Returns the profile of a state's control points. Fails with kBadValue where they are none.
Result<Profile> profile_of(const std::vector<double>& controls);

// The terms of every known size at the present profile, and of the height.
struct SizeReadings {
  std::vector<SizeTerms> sizes;  // in the order of the known sizes
  SizeTerms height{};
};

// Returns the readings, or none where the controls make no profile. While the profile has no neck,
// its narrowest place above half way counts.
std::optional<SizeReadings> size_readings(const std::vector<KnownSize>& known,
                                          const std::vector<double>& controls);

// Returns the value of a size from its terms and the profile's control coordinates.
template <class Controls>
double size_value(const SizeTerms& terms, const Controls& controls) {
  double value = 0.0;
  for (const SizeTerm& term : terms) value += term.amount * controls[term.index];
  return value;
}

// Returns the standard uncertainty with which a known size binds the estimate. A diameter is taken
// in one direction, so it also carries the vessel's out-of-round (`round_sd`, a part of it).
double size_sd(const KnownSize& size, double round_sd);

// Returns the standard uncertainty with which a measured distance binds the estimate.
double distance_sd(const KnownDistance& distance);

// One known size against the profile. Parameters: both blocks of the controls. Takes `shared`'s
// entry at `index`.
std::unique_ptr<ceres::CostFunction> size_cost(std::shared_ptr<const SizeReadings> shared,
                                               std::size_t index, double value_mm, double sd_mm,
                                               std::size_t control_count);

// A measured distance. Parameters: pose, both blocks of the controls.
std::unique_ptr<ceres::CostFunction> distance_cost(std::shared_ptr<const SizeReadings> shared,
                                                   const KnownDistance& distance,
                                                   std::size_t control_count);

}  // namespace potshadow::internal

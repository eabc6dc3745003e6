// SPDX-License-Identifier: MIT
// What a mix of known clays and temper is likely to do, before any bar of it is made.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/body_figures.h"

// For this part only; body_figures.h says by which model.
namespace potshadow {

// How far a mix can differ from the mean of its clays: one percentage point (common practice, no
// source).
inline constexpr double kMixSd = 0.01;

struct MixEstimate {
  LinearShrinkage drying;  // wet to bone-dry
  LinearShrinkage firing;  // bone-dry to fired
  Measured water_percent;
  Measured ignition_percent;
  std::vector<std::string> unknown;  // clays of the mix that the book tells nothing of
};

// Returns the estimate, or nothing where the mix names no clay that the book holds. `seen` are the
// records that led here: a mix cannot be made of itself. A body of the mix whose bars do not reach
// the heat counts as unknown.
std::optional<MixEstimate> mix_estimate(const ClayBody& body, const std::vector<ClayBody>& book,
                                        std::optional<double> firing_c,
                                        const std::vector<std::string>& seen);

// As body_figures, for a body that is a part of those in `seen`.
Result<BodyFigures> figures_within(const ClayBody& body, const std::vector<ClayBody>& book,
                                   std::optional<double> firing_c,
                                   const std::vector<std::string>& seen);

}  // namespace potshadow

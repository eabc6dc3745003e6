// SPDX-License-Identifier: MIT
// How smooth the profiles are, chosen from the data.
#pragma once

#include "estimate/solve.h"

// Internal to `estimate`. The scale that makes the marginal likelihood stationary, given the
// present Jacobian, is sd^2 = |D c|^2 / (degrees of freedom that the data did not leave open).
// Source: Wood & Fasiolo, Biometrics 73(4), 2017 (generalised Fellner-Schall step).
namespace potshadow::internal {

// Returns one such step from `before`, for the vessel's profile and each neighbour's.
Smoothnesses chosen_smoothness(const Task& task, const State& state, const Smoothnesses& before);

// Returns a smoothness to begin with: as rough as the profiles are now, and at least `least_mm`.
Smoothnesses present_smoothness(const State& state, double least_mm);

}  // namespace potshadow::internal

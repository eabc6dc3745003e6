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

// Returns minus the logarithm of the marginal likelihood, but for a constant: by it solutions with
// smoothnesses of their own are compared, where the one of lower cost may be only the rougher one.
// To second order about the solution (Laplace), the weights of the knots as in the step above (mean
// field). Infinite where nothing is pinned down.
double marginal_cost(const Task& task, const State& state, const Smoothnesses& smoothness);

// Returns a smoothness to begin with: as rough as the profiles are now, and at least `least` (see
// Smoothness::sd).
Smoothnesses present_smoothness(const State& state, double least);

}  // namespace potshadow::internal

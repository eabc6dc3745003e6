// SPDX-License-Identifier: MIT
// From the solved state to the lines that are drawn over the photograph.
#pragma once

#include "estimate/answer.h"
#include "estimate/posterior.h"
#include "estimate/predicted.h"

// Internal to `estimate`. The band across the outline: a point of the outline moves across it, to
// first order, as the surface point does that makes it (the envelope theorem, as for the marks).
// Its gradient by all unknowns goes through the covariance to a standard deviation in pixels.
namespace potshadow::internal {

// Returns the overlay of the `view`-th photograph. `answer` gives the sizes that are drawn,
// `all_misfits` (see misfits) its whiskers; `covariance` is that of covariance_matrix.
Overlay overlay_of(const Task& task, const State& state, std::size_t view, const Answer& answer,
                   const Posterior& posterior, const Eigen::MatrixXd& covariance,
                   const std::vector<Misfit>& all_misfits);

}  // namespace potshadow::internal

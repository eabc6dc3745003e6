// SPDX-License-Identifier: MIT
// The joint estimate: from marks on one photograph to sizes, profile and their intervals.
#pragma once

#include <memory>

#include "core/result.h"
#include "estimate/answer.h"
#include "estimate/input.h"

// Unknowns: focal length, principal point and lens distortion; the camera's pose; the pose and true
// size of each reference; the pane's direction and thickness; the tilt of the axis against the
// shelf; the vessel's out-of-round; and the control points of the profile. Observations: the
// corners of rectangles and points round discs, points of the rim circle, of the foot circle, and
// of the outline, each divided by its standard deviation, and priors on all that is not free. The
// profile carries a smoothness prior on its second differences whose weight is chosen from the data
// (marginal likelihood). The optimum is found by Levenberg-Marquardt (Ceres) from starts computed
// in closed form; no start values are asked for. Sizes and intervals come from the posterior
// covariance by first-order propagation (JCGM 100:2008, 5.1).
//
// Outline marks are compared with the predicted silhouette: the contact points of a surface of
// revolution seen from the eye. With the contact held fixed the derivative of the distance is exact
// to first order (envelope theorem).
//
// Marks of the vessel that lie too far off for chance are left out and named (wild.h); sizes of the
// vessel and a camera's distance that are known beforehand count as observations (known_size.h).
//
// Fails with: kTooFewMarks; kBadMarks (crossed, collinear or wrongly ordered corners, a disc's edge
// that is no ellipse, marks outside reason); kBadValue (sizes or uncertainties that cannot be);
// kCannotBeAnswered (no reference, a reference seen edge-on, no start that fits, an answer without
// bounds).
namespace potshadow {

// What the last estimate found, for the next one on nearly the same marks to start from. Copies
// share what they hold. Not for use from two threads at once.
class EstimateMemory {
 public:
  EstimateMemory() = default;

 private:
  struct Inside;
  friend Result<Answer> estimate(const EstimateInput& input, EstimateMemory* memory);
  friend Result<Answer> estimate_nearby(const EstimateInput& input, EstimateMemory& memory);
  std::shared_ptr<const Inside> inside_;
};

// Returns the answer. It depends on nothing but the input; `memory`, where given, is left holding
// the solution. Takes some tens of milliseconds for 120 marks.
Result<Answer> estimate(const EstimateInput& input, EstimateMemory* memory = nullptr);

// Returns the answer found by starting from the solution in `memory`, and leaves the new one there.
// For marks that are being dragged: it takes about half as long, and sizes agree with estimate()'s
// to a small part of their uncertainty, but not to the last digit. Where the memory is empty, of
// another photograph or of other references, or does not lead to an answer, it is estimate().
Result<Answer> estimate_nearby(const EstimateInput& input, EstimateMemory& memory);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A vessel's sizes read off its profile, each with how it moves with the unknowns.
#pragma once

#include <optional>
#include <utility>

#include "estimate/answer.h"
#include "estimate/posterior.h"
#include "estimate/state.h"
#include "estimate/task.h"
#include "vessel/profile.h"
#include "vessel/sizes.h"

// Internal to `estimate`. A neck that no photograph shows with marks close about it is not stated;
// the capacity then allows for what may turn in unseen. Millimetres and millilitres.
namespace potshadow::internal {

// A size's value, its gradient, and the part of its variance that does not come from the estimate.
struct SizeReading {
  double value = 0.0;
  Posterior::Gradient gradient;
  double wall_variance = 0.0;
  double hidden_variance = 0.0;
};

// Reads one solved vessel; all that it is given must outlive it.
class SizeReader {
 public:
  SizeReader(const Task& task, const State& state, const Profile& profile,
             const Posterior& posterior);

  bool neck_hidden() const { return sizes_.neck.has_value() && !neck_seen_; }

  const Sizes& sizes() const { return sizes_; }

  std::optional<SizeReading> read(SizeName name) const;

 private:
  // Whether a place on the profile shows in the outline, with marks close below it and above it.
  bool outline_seen_at(const State& state, double s) const;

  SizeReading at(double s, std::size_t coordinate, double factor) const;
  // At an extremum the place's own shift does not matter to first order.
  SizeReading diameter_at(double s) const { return at(s, 0, 2.0); }
  // From the foot, which stands on the shelf or hangs hidden in a stand.
  SizeReading height_at(double s) const;

  // The height at which the radius turns: r'(s) = 0 moves by ds = -dr'(s) / r''(s).
  SizeReading height_of_turn(double s) const;

  SizeReading capacity() const;

  // The stretch of the profile about `s` that no mark shows, in any photograph.
  std::pair<double, double> unmarked_about(const State& state, double s) const;

  // What the vessel may hold less than the wall found, where that wall is hidden between two
  // places. The smoothest wall between them was taken, and half a wave may stand in from it; as
  // deep as the stretch is long is the deepest that potters' rims make (common practice, no
  // source). A wall of even thickness follows the wave, which widens it inside: what a band along
  // the wave covers more than one along the chord, by Steiner's formula for parallel curves
  // (L. A. Santalo, Integral Geometry and Geometric Probability, 1976, chapter 1, from memory).
  double notch_ml(std::pair<double, double> ends) const;

  const Task& task_;
  const Profile& profile_;
  const Posterior& posterior_;
  Sizes sizes_;
  double base_mm_ = 0.0;
  double notch_ml_ = 0.0;
  bool neck_seen_ = false;
};

// Returns whether a size hangs on a part of the vessel that is neither seen nor bounded.
bool left_open(const Task& task, SizeName name, const Sizes& sizes);

}  // namespace potshadow::internal

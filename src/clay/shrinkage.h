// SPDX-License-Identifier: MIT
// Total linear shrinkage of a clay, and the sizes to make a pot at so that it fires to the
// original.
#pragma once

#include "clay/linear_shrinkage.h"
#include "core/measured.h"
#include "core/result.h"

// Model: S = (wet length - fired length) / wet length, a fraction of the WET length, between 0 and
// 0.30. So fired = wet (1 - S) and wet = fired / (1 - S). Sizes grow by the enlargement 1 / (1 -
// S), volumes by its cube. Source: ASTM C326-03 (definitions of linear shrinkage).
namespace potshadow {

class TotalShrinkage {
 public:
  // Returns the shrinkage given in percent of the wet length with its standard uncertainty in
  // percentage points. Fails with kBadValue outside 0-30 %, for a negative or huge (> 10) sd, and
  // for numbers that are not finite.
  static Result<TotalShrinkage> from_percent_of_wet(double percent, double sd_percent);

  // Returns the shrinkage from wet to fired that was found otherwise, its interval with it. Fails
  // as above; requires that it is one from wet to fired.
  static Result<TotalShrinkage> from_linear(const LinearShrinkage& linear);

  double fraction_of_wet() const { return linear_.fraction; }
  double sd_fraction() const { return linear_.sd; }
  // Returns half the 95 % interval: 1.96 sd, or more where few test bars tell the scatter.
  double half95_fraction() const { return linear_.half95; }
  const LinearShrinkage& linear() const { return linear_; }

  // Returns 1 / (1 - S), the factor from fired to wet lengths.
  double enlargement() const { return 1.0 / (1.0 - linear_.fraction); }

  // Returns the wet length that fires to `fired`, first-order uncertainty of both included.
  Measured wet_length(const Measured& fired) const { return length_before(fired, linear_); }
  // Returns the fired length that comes of `wet`, likewise.
  Measured fired_length(const Measured& wet) const { return length_after(wet, linear_); }
  // Returns the wet volume that fires to `fired`, likewise.
  Measured wet_volume(const Measured& fired) const { return volume_before(fired, linear_); }

  friend bool operator==(const TotalShrinkage&, const TotalShrinkage&) = default;

 private:
  explicit TotalShrinkage(const LinearShrinkage& linear) : linear_(linear) {}
  LinearShrinkage linear_;
};

}  // namespace potshadow

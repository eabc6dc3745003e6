// SPDX-License-Identifier: MIT
// Total linear shrinkage of a clay, and the sizes to make a pot at so that it fires to the
// original.
#pragma once

#include <optional>
#include <string>

#include "clay/linear_shrinkage.h"
#include "core/measured.h"
#include "core/result.h"

// Model: S = (wet length - fired length) / wet length, a fraction of the WET length, between 0 and
// 0.30. So fired = wet (1 - S) and wet = fired / (1 - S). Sizes grow by the enlargement 1 / (1 -
// S), volumes by its cube. Source: ASTM C326-03 (definitions of linear shrinkage).
//
// A clay with vertical and horizontal bars has a shrinkage for each way besides, found of different
// bars and so independent: heights go by the one upright, diameters by the one across, and volumes
// by the first and the square of the second.
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

  // Returns the same with a shrinkage for each way. Fails as from_linear.
  Result<TotalShrinkage> with_ways(const LinearShrinkage& upright,
                                   const LinearShrinkage& across) const;
  bool has_ways() const { return upright_.has_value(); }

  double fraction_of_wet() const { return linear_.fraction; }
  double sd_fraction() const { return linear_.sd; }
  // Returns half the 95 % interval: 1.96 sd, or more where few test bars tell the scatter.
  double half95_fraction() const { return linear_.half95; }
  const LinearShrinkage& linear() const { return linear_; }

  // Returns 1 / (1 - S), the factor from fired to wet lengths.
  double enlargement() const { return 1.0 / (1.0 - linear_.fraction); }

  double enlargement(SizeWay way) const { return 1.0 / (1.0 - linear(way).fraction); }
  const LinearShrinkage& linear(SizeWay way) const {
    const auto& own = way == SizeWay::kUpright ? upright_ : across_;
    return own ? *own : linear_;
  }

  // Returns the wet length that fires to `fired`, first-order uncertainty of both included.
  Measured wet_length(const Measured& fired) const { return length_before(fired, linear_); }
  Measured wet_length(const Measured& fired, SizeWay way) const {
    return length_before(fired, linear(way));
  }
  // Returns the fired length that comes of `wet`, likewise.
  Measured fired_length(const Measured& wet) const { return length_after(wet, linear_); }
  // Returns the wet volume that fires to `fired`, likewise.
  Measured wet_volume(const Measured& fired) const {
    if (!has_ways()) return volume_before(fired, linear_);
    return length_before(area_before(fired, *across_), *upright_);
  }

  friend bool operator==(const TotalShrinkage&, const TotalShrinkage&) = default;

 private:
  explicit TotalShrinkage(const LinearShrinkage& linear) : linear_(linear) {}
  LinearShrinkage linear_;
  std::optional<LinearShrinkage> upright_{};
  std::optional<LinearShrinkage> across_{};  // both or neither
};

// Returns "12.0 %", or "20.0 % upright and 10.0 % across".
std::string shrinkage_percents(const TotalShrinkage& shrinkage);

}  // namespace potshadow

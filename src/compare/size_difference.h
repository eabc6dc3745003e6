// SPDX-License-Identifier: MIT
// Whether a size of the replica is the original's, larger, smaller, or cannot be told.
#pragma once

#include <string_view>
#include <vector>

#include "core/measured.h"

// Model: difference = replica - original, the two independent but for a scale that both share and
// what else they have in common, given as a covariance.
// Verdicts are told of many sizes at once, and no size of two like vessels may be called different
// in more than 5 of 100 pairs: each is judged by an interval so wide that m of them hold at once
// (Šidák, J. American Statistical Association 62, 1967, from memory, on the safe side where they
// hang together), and shown with it. The difference's own 95 % interval is plain. A size is called
// the same where the plain interval lies within what counts as the same (two one-sided tests:
// Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15(6), 1987, from memory).
namespace potshadow {

enum class Comparison { kSame, kLarger, kSmaller, kCannotTell };
// Returns "same", "larger", "smaller", "cannot_tell".
std::string_view comparison_key(Comparison comparison);

struct SizeDifference {
  Measured original;
  Measured replica;
  Measured difference;
  double judged_by = 0.0;     // half the interval that the verdict goes by
  Measured together() const;  // the difference with that interval in place of its own
  Comparison verdict = Comparison::kCannotTell;
};

// What counts as the same, in percent of the original's size (common practice, no source).
inline constexpr double kSamePercent = 3.0;

// Returns the half-width in standard deviations of intervals of which `count` hold at once with
// 95 %. Requires count >= 1.
double sidak_width(int count);

// Returns the difference and its verdict, one of `claims` that are made together.
// `shared_scale_sd`: a part of the size, in both uncertainties alike.
// `covariance`: of the two, by what else they share.
SizeDifference size_difference(const Measured& original, const Measured& replica,
                               double shared_scale_sd, int claims, double covariance = 0.0);

}  // namespace potshadow

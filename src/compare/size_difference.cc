// SPDX-License-Identifier: MIT
#include "compare/size_difference.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/check.h"

namespace potshadow {
namespace {

// The two-sided point of the normal distribution that leaves `outside` beyond it, by halving.
double normal_point(double outside) {
  double low = 0.0;
  double high = 10.0;
  constexpr int kHalvings = 60;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2.0;
    (std::erfc(middle / std::numbers::sqrt2) > outside ? low : high) = middle;
  }
  return (low + high) / 2.0;
}

}  // namespace

std::string_view comparison_key(Comparison comparison) {
  switch (comparison) {
    case Comparison::kSame:
      return "same";
    case Comparison::kLarger:
      return "larger";
    case Comparison::kSmaller:
      return "smaller";
    case Comparison::kCannotTell:
      return "cannot_tell";
  }
  return "";
}

Measured SizeDifference::together() const {
  return {difference.value, difference.sd, difference.value - judged_by,
          difference.value + judged_by};
}

double sidak_width(int count) {
  POTSHADOW_CHECK(count >= 1);
  return normal_point(1.0 - std::pow(0.95, 1.0 / count));
}

SizeDifference size_difference(const Measured& original, const Measured& replica,
                               double shared_scale_sd, int claims, double covariance) {
  SizeDifference out{original, replica, {}, 0.0, Comparison::kCannotTell};
  const double shared = 2.0 * shared_scale_sd * shared_scale_sd * original.value * replica.value;
  const double variance = std::max(
      0.0, original.sd * original.sd + replica.sd * replica.sd - shared - 2.0 * covariance);
  out.difference = normal_measured(replica.value - original.value, std::sqrt(variance));
  out.judged_by = sidak_width(claims) * out.difference.sd;
  const double same = kSamePercent / 100.0 * std::abs(original.value);
  if (std::abs(out.difference.value) > out.judged_by) {
    out.verdict = out.difference.value > 0.0 ? Comparison::kLarger : Comparison::kSmaller;
  } else if (out.difference.low95 >= -same && out.difference.high95 <= same) {
    out.verdict = Comparison::kSame;
  }
  return out;
}

}  // namespace potshadow

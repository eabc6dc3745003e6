// SPDX-License-Identifier: MIT
#include "clay/shrinkage.h"

#include <cmath>
#include <string>

#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kMostPercent = 30.0;
constexpr double kMostSdPercent = 10.0;

// The first-order spread of a value multiplied by `factor`, where the shrinkage adds
// `shrinkage_part` of its own.
// The two are independent: the size comes from a photograph, the shrinkage from test bars.
Measured carried(const Measured& m, double factor, double shrinkage_part) {
  const double value = m.value * factor;
  const double sd = std::hypot(m.sd * factor, shrinkage_part);
  if (shrinkage_part == 0.0) return {value, sd, m.low95 * factor, m.high95 * factor};
  // Each half of the interval keeps its own width, so that a lopsided one stays lopsided.
  const double low = std::hypot((m.value - m.low95) * factor, kNormal95 * shrinkage_part);
  const double high = std::hypot((m.high95 - m.value) * factor, kNormal95 * shrinkage_part);
  return {value, sd, value - low, value + high};
}

}  // namespace

Result<TotalShrinkage> TotalShrinkage::from_percent_of_wet(double percent, double sd_percent) {
  if (!std::isfinite(percent) || percent < 0.0 || percent > kMostPercent) {
    return Problem{Code::kBadValue,
                   "A shrinkage of " + fixed_text(percent, 1) +
                       " % is outside what clay does, 0 to 30 % of the wet length.",
                   "Give the total shrinkage from wet to fired as a percentage of the wet length.",
                   ""};
  }
  if (!std::isfinite(sd_percent) || sd_percent < 0.0 || sd_percent > kMostSdPercent) {
    return Problem{Code::kBadValue,
                   "An uncertainty of " + fixed_text(sd_percent, 1) +
                       " percentage points does not suit a shrinkage.",
                   "Give the shrinkage's standard deviation between 0 and 10 percentage points.",
                   ""};
  }
  return TotalShrinkage(percent / 100.0, sd_percent / 100.0);
}

Measured TotalShrinkage::wet_length(const Measured& fired) const {
  const double e = enlargement();
  // d wet / d S = fired / (1 - S)^2.
  return carried(fired, e, std::abs(fired.value) * e * e * sd_);
}

Measured TotalShrinkage::fired_length(const Measured& wet) const {
  // d fired / d S = -wet.
  return carried(wet, 1.0 - fraction_, std::abs(wet.value) * sd_);
}

Measured TotalShrinkage::wet_volume(const Measured& fired) const {
  const double e = enlargement();
  // d wet / d S = 3 fired / (1 - S)^4.
  return carried(fired, e * e * e, 3.0 * std::abs(fired.value) * e * e * e * e * sd_);
}

}  // namespace potshadow

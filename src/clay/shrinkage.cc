// SPDX-License-Identifier: MIT
#include "clay/shrinkage.h"

#include <cmath>
#include <string>

#include "core/check.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kMostPercent = 30.0;
constexpr double kMostSdPercent = 10.0;

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
  return TotalShrinkage(
      normal_shrinkage(Stage::kWet, Stage::kFired, percent / 100.0, sd_percent / 100.0));
}

Result<TotalShrinkage> TotalShrinkage::from_linear(const LinearShrinkage& linear) {
  POTSHADOW_CHECK(linear.from == Stage::kWet && linear.to == Stage::kFired);
  const Result<TotalShrinkage> checked =
      from_percent_of_wet(100.0 * linear.fraction, 100.0 * linear.sd);
  if (!checked) return checked.problem();
  return TotalShrinkage(linear);
}

Result<TotalShrinkage> TotalShrinkage::with_ways(const LinearShrinkage& upright,
                                                 const LinearShrinkage& across) const {
  for (const LinearShrinkage& way : {upright, across}) {
    const Result<TotalShrinkage> checked = from_linear(way);
    if (!checked) return checked.problem();
  }
  TotalShrinkage both = *this;
  both.upright_ = upright;
  both.across_ = across;
  return both;
}

std::string shrinkage_percents(const TotalShrinkage& shrinkage) {
  const auto percent = [](const LinearShrinkage& of) {
    return fixed_text(100.0 * of.fraction, 1) + " %";
  };
  if (!shrinkage.has_ways()) return percent(shrinkage.linear());
  return percent(shrinkage.linear(SizeWay::kUpright)) + " upright and " +
         percent(shrinkage.linear(SizeWay::kAcross)) + " across";
}

}  // namespace potshadow

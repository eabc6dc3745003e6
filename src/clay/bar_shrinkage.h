// SPDX-License-Identifier: MIT
// The shrinkage between two stages as a body's own test bars tell it.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "clay/clay_body.h"
#include "core/result.h"

// Model: bars with a length at both stages count, each as one value; small_sample.h says how they
// are put together. Where the later stage is "fired", bars within kSameFiringC of each other are
// one firing. A heat between two firings is interpolated in a straight line between their means,
// and an allowance is made for the curve that shrinkage really follows: anything within a quarter
// of the step at its middle. A heat beyond them all has no answer. Lengths are read with
// ClayBody::reading_sd_mm each.
namespace potshadow {

inline constexpr double kSameFiringC = 15.0;  // as far as a cone or a kiln's gauge tells

struct BarQuestion {
  Stage from = Stage::kWet;
  Stage to = Stage::kFired;
  std::optional<double> firing_c;  // nothing: the body's usual heat, else the only firing there is
  BarWay way = BarWay::kEither;    // kEither: all bars
};

struct BarAnswer {
  LinearShrinkage shrinkage;
  std::vector<std::size_t> bars;  // places in ClayBody::bars of those that count
};

// Returns the answer, or nothing where no bar has both lengths; notes name the bars that disagree.
// Requires a body that passes check_body. Fails with kCannotBeAnswered where the bars were fired at
// several heats and none is asked for, and where the heat asked for lies beyond them all.
Result<std::optional<BarAnswer>> bar_shrinkage(const ClayBody& body, const BarQuestion& question);

// Returns the mean of a number that each bar may give, with the doubt that their scatter tells and
// an interval by Student's t; nothing without bars. A lone bar gets the standard deviation `alone`.
std::optional<Measured> bar_mean(const std::vector<double>& values, double alone);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// What a handful of bars say together: their mean, its interval, and which of them disagrees.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

// Model: bars of one kind scatter normally about the clay's true shrinkage, with a deviation that
// only the bars themselves tell. Their mean then lies within ± t s / sqrt(n), with Student's t of
// n - 1 degrees of freedom (JCGM 100:2008, G.3). Bars fired at different heats share one deviation,
// pooled over the firings. The interval is never narrower than the ruler's own doubt allows, for
// bars read to the same whole millimetre do not scatter and are not exact for that. Plain fractions
// (0.06 for 6 %).
namespace potshadow {

// The scatter that is taken where a single bar tells none: 1.5 percentage points (common practice,
// no source).
inline constexpr double kLoneBarSd = 0.015;

// The scatter of the bars of one clay about the means of their groups.
struct Scatter {
  double sd = kLoneBarSd;   // of one bar
  double reading_sd = 0.0;  // of one bar, by the ruler alone
  std::size_t freedom = 0;  // 0: nothing but kLoneBarSd and the ruler tells it
  friend bool operator==(const Scatter&, const Scatter&) = default;
};

// Returns the scatter of values about the mean of their group, pooled over all groups.
Scatter scatter_of(std::span<const std::vector<double>> groups, double reading_sd);

// The doubt of a mean whose variance is `variance_share` times that of one bar: 1 / n for a plain
// mean of n bars.
struct MeanDoubt {
  double sd = 0.0;
  double half95 = 0.0;
};
MeanDoubt doubt_of_mean(const Scatter& scatter, double variance_share);

double mean_of(std::span<const double> values);

// Returns the place of the value that does not belong to the others by Grubbs' two-sided test at
// 5 %, or none; none too where it lies within three times `reading_sd` of the mean of the others.
// It takes three values at least. Source: Grubbs 1969, Technometrics 11(1); ISO 5725-2:1994, 7.3.4.
std::optional<std::size_t> stray_of(std::span<const double> values, double reading_sd);

// Returns the critical value of that test, in standard deviations of the sample. Requires
// count >= 3.
double grubbs_limit(std::size_t count);

// Returns whether two values are farther apart than two bars of one clay are once in twenty times.
bool pair_is_apart(double a, double b);

}  // namespace potshadow

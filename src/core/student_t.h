// SPDX-License-Identifier: MIT
// Student's t: how much wider an interval must be where the scatter itself comes of a few readings.
#pragma once

// Model: the mean of n normal readings, over its standard deviation as those readings give it, has
// Student's distribution with n - 1 degrees of freedom. The interval mean ± t sd holds the truth
// with the probability asked for. Unit-free.
namespace potshadow {

// Returns t so that a value of Student's distribution lies within ± t with this probability. The
// degrees of freedom need not be whole (JCGM 100:2008, G.4.1), and may be infinite. Within 1e-9 of
// itself. Requires 0 < probability < 1, freedom > 0.
// Source: incomplete beta function by its continued fraction (Abramowitz and Stegun 1964, 26.5.8
// and 26.7.1, from memory), inverted by halving.
double student_t(double probability, double freedom);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "core/student_t.h"

#include <cmath>

#include "core/check.h"

namespace potshadow {
namespace {

// Beyond this the normal distribution differs by less than the last digit kept.
constexpr double kAsGoodAsInfinite = 1e10;

// Returns the continued fraction of the incomplete beta function, by Lentz's way of working it out.
double beta_fraction(double a, double b, double x) {
  constexpr int kMostTerms = 100'000;
  constexpr double kTiny = 1e-300;
  constexpr double kEnough = 1e-15;
  const auto kept_off_zero = [](double value) { return std::abs(value) < kTiny ? kTiny : value; };
  double c = 1.0;
  double d = 1.0 / kept_off_zero(1.0 - (a + b) * x / (a + 1.0));
  double fraction = d;
  for (int m = 1; m <= kMostTerms; ++m) {
    const double even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
    d = 1.0 / kept_off_zero(1.0 + even * d);
    c = kept_off_zero(1.0 + even / c);
    fraction *= d * c;
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
    d = 1.0 / kept_off_zero(1.0 + odd * d);
    c = kept_off_zero(1.0 + odd / c);
    const double step = d * c;
    fraction *= step;
    if (std::abs(step - 1.0) < kEnough) break;
  }
  return fraction;
}

// Returns the regularised incomplete beta function I_x(a, b).
double incomplete_beta(double a, double b, double x) {
  if (x <= 0.0) return 0.0;
  if (x >= 1.0) return 1.0;
  const double front = std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) +
                                a * std::log(x) + b * std::log1p(-x));
  // The fraction converges fast on this side only.
  if (x < (a + 1.0) / (a + b + 2.0)) return front * beta_fraction(a, b, x) / a;
  return 1.0 - front * beta_fraction(b, a, 1.0 - x) / b;
}

double probability_within(double t, double freedom) {
  if (freedom > kAsGoodAsInfinite) return std::erf(t / std::sqrt(2.0));
  return 1.0 - incomplete_beta(freedom / 2.0, 0.5, freedom / (freedom + t * t));
}

}  // namespace

double student_t(double probability, double freedom) {
  POTSHADOW_CHECK(probability > 0.0 && probability < 1.0 && freedom > 0.0);
  double high = 1.0;
  while (probability_within(high, freedom) < probability && high < 1e300) high *= 2.0;
  double low = 0.0;
  constexpr double kEnough = 1e-14;
  while (high - low > kEnough * high) {
    const double middle = (low + high) / 2.0;
    (probability_within(middle, freedom) < probability ? low : high) = middle;
  }
  return (low + high) / 2.0;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "core/measured.h"

#include <algorithm>
#include <cmath>

#include "core/check.h"
#include "core/text.h"

namespace potshadow {

Measured normal_measured(double value, double sd) {
  POTSHADOW_CHECK(!(sd < 0.0));
  return {value, sd, value - kNormal95 * sd, value + kNormal95 * sd};
}

Measured scaled(const Measured& m, double factor) {
  POTSHADOW_CHECK(factor > 0.0);
  return {m.value * factor, m.sd * factor, m.low95 * factor, m.high95 * factor};
}

RoundedText rounded(double value, double uncertainty, int least_decimals, int most_decimals) {
  if (!std::isfinite(value) || !std::isfinite(uncertainty)) return {"–", "–", 0};
  int decimals = most_decimals;
  // Below this the uncertainty shows no digit anyway, and its logarithm may not exist.
  const double least_shown = std::pow(10.0, -most_decimals - 2);
  if (uncertainty > least_shown) {
    // Two significant digits; 0.0996 becomes 0.10, not 0.100.
    const auto place = [](double u) { return 1 - static_cast<int>(std::floor(std::log10(u))); };
    decimals = place(uncertainty);
    const double step = std::pow(10.0, -decimals);
    const double once = std::round(uncertainty / step) * step;
    decimals = std::min(decimals, place(once * (1.0 + 1e-12)));
  }
  decimals = std::clamp(decimals, least_decimals, most_decimals);
  const auto print = [decimals](double x) {
    if (decimals >= 0) return fixed_text(x, decimals);
    const double step = std::pow(10.0, -decimals);
    return fixed_text(std::round(x / step) * step, 0);
  };
  return {print(value), print(uncertainty), std::max(decimals, 0)};
}

}  // namespace potshadow

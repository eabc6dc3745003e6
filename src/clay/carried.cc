// SPDX-License-Identifier: MIT
#include "clay/carried.h"

#include <cmath>

namespace potshadow {

Measured carried(const Measured& m, double factor, double sd_part, double half_part) {
  const double value = m.value * factor;
  const double sd = std::hypot(m.sd * factor, sd_part);
  if (half_part == 0.0) return {value, sd, m.low95 * factor, m.high95 * factor};
  const double low = std::hypot((m.value - m.low95) * factor, half_part);
  const double high = std::hypot((m.high95 - m.value) * factor, half_part);
  return {value, sd, value - low, value + high};
}

}  // namespace potshadow

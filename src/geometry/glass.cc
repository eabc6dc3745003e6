// SPDX-License-Identifier: MIT
#include "geometry/glass.h"

namespace potshadow {

double lateral_displacement_mm(Mm thickness, double index, Rad angle) {
  return glass_shift_mm(thickness.value, index, std::cos(angle.value)) * std::sin(angle.value);
}

}  // namespace potshadow

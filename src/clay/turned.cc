// SPDX-License-Identifier: MIT
#include "clay/turned.h"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace potshadow {

TurnedFigure turned(const std::vector<ProfilePoint>& polygon) {
  TurnedFigure figure;
  double moment = 0.0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const ProfilePoint& a = polygon[i];
    const ProfilePoint& b = polygon[(i + 1) % polygon.size()];
    const double cross = a.radius_mm * b.height_mm - b.radius_mm * a.height_mm;
    figure.area_mm2 += cross / 2.0;
    moment += (a.radius_mm + b.radius_mm) * cross / 6.0;
  }
  figure.volume_mm3 = 2.0 * std::numbers::pi * moment;
  return figure;
}

double middle_radius(const TurnedFigure& figure) {
  if (figure.area_mm2 == 0.0) return 0.0;
  return figure.volume_mm3 / (2.0 * std::numbers::pi * figure.area_mm2);
}

}  // namespace potshadow

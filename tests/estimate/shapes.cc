// SPDX-License-Identifier: MIT
#include "estimate/shapes.h"

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace potshadow::testing {

std::vector<ProfilePoint> smooth_jar() {
  std::vector<ProfilePoint> profile;
  constexpr int kSteps = 600;
  for (int i = 0; i <= kSteps; ++i) {
    const double t = static_cast<double>(i) / kSteps;
    const double radius =
        40.0 + 60.0 * std::sin(std::numbers::pi * (0.05 + 0.9 * t)) + 14.0 * t * t * t * t;
    profile.push_back({radius, 190.0 * t});
  }
  return profile;
}

std::vector<ProfilePoint> teapot_body() {
  constexpr std::array<std::array<std::array<double, 2>, 4>, 2> kArcs = {
      {{{{1.5, 0.0}, {1.5, 0.075}, {2.0, 0.3}, {2.0, 0.75}}},
       {{{2.0, 0.75}, {2.0, 1.2}, {1.75, 1.725}, {1.5, 2.25}}}}};
  std::vector<ProfilePoint> profile;
  constexpr int kSteps = 300;
  for (const auto& arc : kArcs) {
    for (int i = profile.empty() ? 0 : 1; i <= kSteps; ++i) {
      const double t = static_cast<double>(i) / kSteps;
      const std::array<double, 4> b = {std::pow(1 - t, 3), 3 * t * (1 - t) * (1 - t),
                                       3 * t * t * (1 - t), t * t * t};
      ProfilePoint p;
      for (std::size_t k = 0; k < 4; ++k) {
        p.radius_mm += 40.0 * b[k] * arc[k][0];
        p.height_mm += 40.0 * b[k] * arc[k][1];
      }
      profile.push_back(p);
    }
  }
  return profile;
}

std::vector<ProfilePoint> open_sphere() {
  std::vector<ProfilePoint> profile;
  constexpr int kSteps = 600;
  const double last = std::numbers::pi - 0.6;
  for (int i = 0; i <= kSteps; ++i) {
    const double angle = last * i / kSteps;
    profile.push_back({100.0 * std::sin(angle), 100.0 - 100.0 * std::cos(angle)});
  }
  return profile;
}

}  // namespace potshadow::testing

// SPDX-License-Identifier: MIT
#include "vessel/silhouette.h"

#include <algorithm>
#include <cmath>

#include "core/check.h"

namespace potshadow {

std::optional<double> contact_cosine(const ProfilePoint& point, const ProfilePoint& normal,
                                     Mm eye_rho, Mm eye_z) {
  POTSHADOW_CHECK(eye_rho.value > 0.0);
  const double top =
      normal.radius_mm * point.radius_mm + normal.height_mm * (point.height_mm - eye_z.value);
  const double bottom = normal.radius_mm * eye_rho.value;
  if (!(std::abs(top) <= std::abs(bottom)) || bottom == 0.0) return std::nullopt;
  return top / bottom;
}

std::optional<Rad> contact_angle(const ProfilePoint& point, const ProfilePoint& normal, Mm eye_rho,
                                 Mm eye_z) {
  const auto cosine = contact_cosine(point, normal, eye_rho, eye_z);
  if (!cosine) return std::nullopt;
  return Rad{std::acos(*cosine)};
}

Mm apparent_max_diameter(const Profile& profile, const VesselPoint& eye) {
  const double rho = std::hypot(eye.x_mm, eye.y_mm);
  POTSHADOW_CHECK(rho > 0.0);
  constexpr int kSteps = 2000;
  double widest = 0.0;
  for (int i = 0; i <= kSteps; ++i) {
    const double s = static_cast<double>(i) / kSteps;
    const ProfilePoint p = profile.at(s);
    const auto angle = contact_angle(p, profile.normal_at(s), Mm{rho}, Mm{eye.z_mm});
    if (!angle) continue;
    // Carry the contact along its sight line into the plane through the axis.
    const double towards = rho - p.radius_mm * std::cos(angle->value);
    const double aside = p.radius_mm * std::sin(angle->value) * rho / towards;
    widest = std::max(widest, aside);
  }
  return Mm{2.0 * widest};
}

}  // namespace potshadow

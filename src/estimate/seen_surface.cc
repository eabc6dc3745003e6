// SPDX-License-Identifier: MIT
#include "estimate/seen_surface.h"

#include <algorithm>

#include "geometry/glass.h"
#include "vessel/silhouette.h"

namespace potshadow::internal {

SeenSurface::SeenSurface(const Sight& sight, const Body& body, std::size_t discs)
    : sight_(sight),
      body_(body),
      lens_(lens_of(sight.lens.data(), sight.setting.focal_start_px)),
      eye_(0.0, -sight.pose[kDistanceMm], sight.pose[kEyeHeightMm]),
      pane_normal_(pane_normal(sight.pane.data())) {
  const double c = std::cos(2.0 * sight.setting.direction_rad);
  const double s = std::sin(2.0 * sight.setting.direction_rad);
  const double a = body.round[kBodyCos2];
  const double b = body.round[kBodySin2];
  oval_ = {c * a + s * b, c * b - s * a};
  for (int axis = 0; axis < 3; ++axis) {
    const Eigen::Vector3d column = sight.setting.camera_from_vessel_start.col(axis);
    Eigen::Vector3d turned;
    ceres::AngleAxisRotatePoint(sight.pose.data(), column.data(), turned.data());
    camera_from_vessel_.col(axis) = turned;
  }
  for (std::size_t i = 0; i <= discs; ++i) {
    discs_.push_back(point_at(profile_basis(part(i, discs), body_.control_count())));
  }
  const double s_eye = sight_.setting.glass ? eye_shift() : 0.0;
  // The solver refuses eyes inside the vessel; here they must only do no harm.
  eye_rho_ = std::max(1.0, sight_.pose[kDistanceMm] - s_eye);
}

double SeenSurface::part(std::size_t i, std::size_t count) {
  return static_cast<double>(i) / static_cast<double>(count);
}

ProfilePoint SeenSurface::combined(const ProfileBasis& basis,
                                   const std::array<double, 4>& weight) const {
  ProfilePoint p;
  for (std::size_t j = 0; j < 4; ++j) {
    p.radius_mm += weight[j] * body_.controls[2 * (basis.first + j)];
    p.height_mm += weight[j] * body_.controls[2 * (basis.first + j) + 1];
  }
  return p;
}

double SeenSurface::eye_shift() const {
  const double fall = sight_.pose[kEyeHeightMm] / sight_.pose[kDistanceMm];
  return glass_shift_mm(sight_.pane[kPaneThicknessMm], sight_.setting.glass_index,
                        1.0 / std::sqrt(1.0 + fall * fall));
}

Eigen::Vector2d SeenSurface::image(const Eigen::Vector3d& point) const {
  Eigen::Vector3d seen = point;
  if (sight_.setting.glass) {
    seen = seen_through_glass<double>(point, eye_, pane_normal_, sight_.pane[kPaneThicknessMm],
                                      sight_.setting.glass_index);
  }
  return project<double>(lens_, camera_from_vessel_ * (seen - eye_));
}

bool SeenSurface::covered(const Eigen::Vector3d& point) const {
  const Eigen::Vector3d eye(0.0, -eye_rho_, sight_.pose[kEyeHeightMm]);
  const Eigen::Vector3d ray = point - eye;
  if (std::abs(ray.z()) < 1e-9) return false;
  for (const ProfilePoint& disc : discs_) {
    const double lambda = (disc.height_mm - eye.z()) / ray.z();
    if (!(lambda > 0.0)) continue;
    const double x = eye.x() + lambda * ray.x();
    const double y = eye.y() + lambda * ray.y();
    const double inner = disc.radius_mm * (1.0 + growth(x, y)) * 0.997 - 0.02;
    if (inner > 0.0 && x * x + y * y < inner * inner) return true;
  }
  return false;
}

std::optional<SeenSurface::Contact> SeenSurface::contact(double s, double side) const {
  Contact c;
  c.basis = profile_basis(s, body_.control_count());
  ProfilePoint p = point_at(c.basis);
  const ProfilePoint slope = combined(c.basis, c.basis.slope);
  if (slope.radius_mm == 0.0 && slope.height_mm == 0.0) return std::nullopt;
  const ProfilePoint normal{slope.height_mm, -slope.radius_mm};
  // To first order an oval moves its outline by what its radius grows where a round body would be
  // touched.
  const auto cosine = contact_cosine(p, normal, Mm{eye_rho_}, Mm{sight_.pose[kEyeHeightMm]});
  if (!cosine) return std::nullopt;
  c.side = side;
  c.cosine = *cosine;
  c.outward = {side * std::sqrt(1.0 - *cosine * *cosine), -*cosine};
  c.from_outside = touches_from_outside(c, p, slope);
  p.radius_mm *= 1.0 + growth(c.outward.x(), c.outward.y());
  c.point << p.radius_mm * c.outward, p.height_mm;
  return c;
}

Match SeenSurface::circle_point(double azimuth, double s) const {
  Match match;
  match.s = s;
  match.basis = profile_basis(s, body_.control_count());
  match.azimuth_rad = azimuth;
  on_body(match);
  const bool rim = s > 0.5;
  match.round_weight[rim ? kRimCos2 : kFootCos2] = match.round_weight[kBodyCos2];
  match.round_weight[rim ? kRimSin2 : kFootSin2] = match.round_weight[kBodySin2];
  return match;
}

bool SeenSurface::touches_from_outside(const Contact& c, const ProfilePoint& p,
                                       const ProfilePoint& slope) const {
  const ProfilePoint bend = combined(c.basis, c.basis.curvature);
  const double size =
      std::sqrt(slope.radius_mm * slope.radius_mm + slope.height_mm * slope.height_mm);
  if (!(p.radius_mm > 0.0)) return true;
  const double out = slope.height_mm / size;  // of the normal, away from the axis
  const double meridian =
      (slope.radius_mm * bend.height_mm - slope.height_mm * bend.radius_mm) / (size * size * size);
  const Eigen::Vector3d outward(c.outward.x(), c.outward.y(), 0.0);
  const Eigen::Vector3d round(-outward.y(), outward.x(), 0.0);
  const Eigen::Vector3d ray = p.radius_mm * outward +
                              (p.height_mm - sight_.pose[kEyeHeightMm]) * Eigen::Vector3d::UnitZ() +
                              eye_rho_ * Eigen::Vector3d::UnitY();
  const double along = (slope.radius_mm * ray.dot(outward) + slope.height_mm * ray.z()) / size;
  const double across = ray.dot(round);
  return along * along * meridian + across * across * out / p.radius_mm >= 0.0;
}

void SeenSurface::on_body(Match& match) const {
  const double twice = 2.0 * (match.azimuth_rad + sight_.setting.direction_rad);
  match.round_weight[kBodyCos2] = std::cos(twice);
  match.round_weight[kBodySin2] = std::sin(twice);
}

double SeenSurface::growth(double x, double y) const {
  const double squared = x * x + y * y;
  if (!(squared > 0.0)) return 0.0;
  return (oval_[0] * (x * x - y * y) + oval_[1] * 2.0 * x * y) / squared;
}

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
#include "unroll/surface.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace potshadow {
namespace {

// Rays start so far outside their point, as a part of the widest radius, that the frusta on which
// it lies do not hide it.
constexpr double kLift = 1e-3;

// Returns the least t in (0, 1) at which the ray p + t d meets the frustum between two rows.
std::optional<double> meeting(const ProfilePoint& low, const ProfilePoint& high,
                              const Eigen::Vector3d& p, const Eigen::Vector3d& d) {
  const double rise = high.height_mm - low.height_mm;
  const double spread = high.radius_mm - low.radius_mm;
  const auto on_ray = [](double t) { return t > 0.0 && t < 1.0; };
  if (std::abs(rise) < 1e-9) {  // a flat ring
    if (std::abs(d.z()) < 1e-12) return std::nullopt;
    const double t = (low.height_mm - p.z()) / d.z();
    const double r = (p + t * d).head<2>().norm();
    const bool on_ring = r >= std::min(low.radius_mm, high.radius_mm) &&
                         r <= std::max(low.radius_mm, high.radius_mm);
    return on_ray(t) && on_ring ? std::optional(t) : std::nullopt;
  }
  // The cone's radius along the ray is a + b t.
  const double slope = spread / rise;
  const double a = low.radius_mm + slope * (p.z() - low.height_mm);
  const double b = slope * d.z();
  const double qa = d.head<2>().squaredNorm() - b * b;
  const double qb = p.head<2>().dot(d.head<2>()) - a * b;
  const double qc = p.head<2>().squaredNorm() - a * a;
  const auto on_cone = [&](double t) {
    const double z = p.z() + t * d.z();
    return on_ray(t) && a + b * t >= 0.0 && z >= std::min(low.height_mm, high.height_mm) &&
           z <= std::max(low.height_mm, high.height_mm);
  };
  std::optional<double> least;
  const auto take = [&](double t) {
    if (on_cone(t) && (!least || t < *least)) least = t;
  };
  if (std::abs(qa) < 1e-15) {
    if (qb != 0.0) take(-qc / (2.0 * qb));
    return least;
  }
  const double root = qb * qb - qa * qc;
  if (root < 0.0) return std::nullopt;
  const double half = std::sqrt(root);
  take((-qb - half) / qa);
  take((-qb + half) / qa);
  return least;
}

}  // namespace

PaintedFace::PaintedFace(const Profile& profile, const Oval& oval)
    : oval_(oval), rows_(profile.sampled(kRows)), along_(kRows, 0.0) {
  for (std::size_t i = 1; i < kRows; ++i) {
    along_[i] = along_[i - 1] + std::hypot(rows_[i].radius_mm - rows_[i - 1].radius_mm,
                                           rows_[i].height_mm - rows_[i - 1].height_mm);
  }
}

double PaintedFace::widest_radius_mm() const {
  double most = 0.0;
  for (const ProfilePoint& row : rows_) most = std::max(most, row.radius_mm);
  return most;
}

ProfilePoint PaintedFace::profile_at(double along_mm) const {
  const auto above = std::upper_bound(along_.begin() + 1, along_.end() - 1, along_mm);
  const auto i = static_cast<std::size_t>(above - along_.begin());
  const double step = along_[i] - along_[i - 1];
  const double part = step > 0.0 ? (along_mm - along_[i - 1]) / step : 0.0;
  return {
      std::max(0.0, rows_[i - 1].radius_mm + part * (rows_[i].radius_mm - rows_[i - 1].radius_mm)),
      rows_[i - 1].height_mm + part * (rows_[i].height_mm - rows_[i - 1].height_mm)};
}

FacePlace PaintedFace::at(double azimuth_rad, double along_mm) const {
  return placed(
      azimuth_rad, along_mm,
      oval_.cos2 * std::cos(2.0 * azimuth_rad) + oval_.sin2 * std::sin(2.0 * azimuth_rad));
}

FacePlace PaintedFace::placed(double azimuth_rad, double along_mm, double growth) const {
  const ProfilePoint p = profile_at(along_mm);
  const double reach = length_mm() / static_cast<double>(kRows);
  const ProfilePoint below = profile_at(along_mm - reach);
  const ProfilePoint above = profile_at(along_mm + reach);
  const double c = std::cos(azimuth_rad);
  const double s = std::sin(azimuth_rad);
  const double grown = p.radius_mm * (1.0 + growth);
  const double outward = above.height_mm - below.height_mm;
  const double upward = below.radius_mm - above.radius_mm;
  return {{grown * c, grown * s, p.height_mm},
          Eigen::Vector3d(outward * c, outward * s, upward).normalized()};
}

double PaintedFace::along_at_height(double height_mm) const {
  std::optional<double> found;
  double widest = -1.0;
  for (std::size_t i = 1; i < kRows; ++i) {
    const double low = rows_[i - 1].height_mm;
    const double high = rows_[i].height_mm;
    if ((height_mm - low) * (height_mm - high) > 0.0 || low == high) continue;
    const double part = (height_mm - low) / (high - low);
    const double radius =
        rows_[i - 1].radius_mm + part * (rows_[i].radius_mm - rows_[i - 1].radius_mm);
    if (radius <= widest) continue;
    widest = radius;
    found = along_[i - 1] + part * (along_[i] - along_[i - 1]);
  }
  if (found) return *found;
  return height_mm < rows_.front().height_mm ? 0.0 : length_mm();
}

bool PaintedFace::hidden_from(const Eigen::Vector3d& eye_mm, double azimuth_rad,
                              double along_mm) const {
  const FacePlace place = placed(azimuth_rad, along_mm, 0.0);
  const Eigen::Vector3d from = place.point + kLift * widest_radius_mm() * place.normal;
  const Eigen::Vector3d ray = eye_mm - from;
  for (std::size_t i = 1; i < kRows; ++i) {
    if (meeting(rows_[i - 1], rows_[i], from, ray)) return true;
  }
  return false;
}

std::optional<PaintedFace::Meeting> PaintedFace::met_by(const Eigen::Vector3d& from_mm,
                                                        const Eigen::Vector3d& along) const {
  // Long enough to pass the vessel.
  const Eigen::Vector3d ray = along * (from_mm.norm() + 2.0 * (length_mm() + widest_radius_mm()));
  std::optional<double> nearest;
  std::size_t at = 0;
  for (std::size_t i = 1; i < kRows; ++i) {
    const std::optional<double> t = meeting(rows_[i - 1], rows_[i], from_mm, ray);
    if (!t || (nearest && *t >= *nearest)) continue;
    nearest = t;
    at = i;
  }
  if (!nearest) return std::nullopt;
  const Eigen::Vector3d point = from_mm + *nearest * ray;
  const ProfilePoint& low = rows_[at - 1];
  const double up = std::hypot(point.head<2>().norm() - low.radius_mm, point.z() - low.height_mm);
  const Meeting met{std::atan2(point.y(), point.x()), along_[at - 1] + up};
  if (placed(met.azimuth_rad, met.along_mm, 0.0).normal.dot(along) >= 0.0) return std::nullopt;
  return met;
}

}  // namespace potshadow

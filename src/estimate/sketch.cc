// SPDX-License-Identifier: MIT
#include "estimate/sketch.h"

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "geometry/conic.h"
#include "vessel/profile.h"

namespace potshadow::internal {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

std::vector<Vector3d> rays_of(const Lens<double>& lens, const std::vector<PhotoPoint>& marks) {
  std::vector<Vector3d> rays;
  for (const PhotoPoint& mark : marks) rays.push_back(undistorted(lens, mark).homogeneous());
  return rays;
}

std::optional<RimGuess> rim_in_plane(const std::vector<Vector3d>& rays, const Vector3d& up) {
  // Circle fit (Kåsa): |p|^2 = 2 p . c + (R^2 - |c|^2), linear in the unknowns.
  const Vector3d e1 = up.unitOrthogonal();
  const Vector3d e2 = up.cross(e1);
  Eigen::MatrixXd a(rays.size(), 3);
  Eigen::VectorXd b(rays.size());
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const double fall = -up.dot(rays[i]);
    if (!(fall > 1e-3)) return std::nullopt;  // level with the eye or above it
    const Vector3d p = rays[i] / fall;
    const Vector2d flat(e1.dot(p), e2.dot(p));
    const auto row = static_cast<Eigen::Index>(i);
    a.row(row) << 2.0 * flat.x(), 2.0 * flat.y(), 1.0;
    b(row) = flat.squaredNorm();
  }
  const Vector3d x = a.colPivHouseholderQr().solve(b);
  const double squared = x.z() + x.head<2>().squaredNorm();
  if (!(squared > 0.0) || !x.allFinite()) return std::nullopt;
  return RimGuess{x.x() * e1 + x.y() * e2 - up, std::sqrt(squared)};
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// The sine of the angle, seen in plan, between the axis and the outline near the foot.
double foot_angle_sine(const SightRays& rays, const Vector3d& up, const Vector3d& towards) {
  const Vector3d aside = towards.cross(up);
  std::vector<double> sines;
  for (const auto* side : {&rays.left, &rays.right}) {
    double lowest = -1e300;
    double sine = 0.0;
    for (const Vector3d& ray : *side) {
      const Vector2d plan(towards.dot(ray), aside.dot(ray));
      const double depression = -up.dot(ray) / plan.norm();
      if (depression > lowest) {
        lowest = depression;
        sine = std::abs(plan.y()) / plan.norm();
      }
    }
    if (!side->empty()) sines.push_back(sine);
  }
  double sum = 0.0;
  for (const double s : sines) sum += s;
  return std::clamp(sum / static_cast<double>(sines.size()), 0.01, 0.9);
}

// SightRays that meet the shelf at the foot, and how the foot lies against the rim's centre line:
// with the eye q above the rim plane and H above the shelf, the foot's centre is q c in plan, its
// radius q |c| sin a. One equation for each ray, with the front of the circle chosen.
std::vector<Vector3d> foot_rays(const SightRays& rays, const Vector3d& up, bool& tangent) {
  tangent = rays.base.empty();
  if (!tangent) return rays.base;
  std::vector<Vector3d> lowest;
  for (const auto* side : {&rays.left, &rays.right}) {
    if (side->empty()) continue;
    lowest.push_back(
        *std::max_element(side->begin(), side->end(), [&](const Vector3d& a, const Vector3d& b) {
          return -up.dot(a) / a.norm() < -up.dot(b) / b.norm();
        }));
  }
  return lowest;
}

// Returns q / H from each foot ray (see above), or nothing.
std::optional<double> rim_to_shelf_ratio(const SightRays& rays, const Vector3d& up,
                                         const Vector3d& centre_plan, double sine) {
  bool tangent = false;
  std::vector<double> ratios;
  const double cos_squared = 1.0 - sine * sine;
  const double c2 = centre_plan.squaredNorm();
  for (const Vector3d& ray : foot_rays(rays, up, tangent)) {
    const double fall = -up.dot(ray);
    if (!(fall > 1e-3)) continue;
    const Vector3d b = ray / fall + up;  // in plan, for each millimetre of H
    if (tangent) {
      ratios.push_back(b.norm() / std::sqrt(c2 * cos_squared));
      continue;
    }
    const double along = b.dot(centre_plan);
    const double root = along * along - b.squaredNorm() * c2 * cos_squared;
    ratios.push_back((along + std::sqrt(std::max(0.0, root))) / (c2 * cos_squared));
  }
  if (ratios.empty()) return std::nullopt;
  return median(ratios);
}

// Where an outline's sight line passes the axis closest: at this distance and height.
std::optional<ProfilePoint> pass_of(const Vector3d& ray, const Eigen::Matrix3d& vessel_from_camera,
                                    const Vector3d& eye) {
  const Vector3d v = vessel_from_camera * ray;
  const double flat = v.head<2>().squaredNorm();
  if (!(flat > 0.0)) return std::nullopt;
  const Vector3d at = eye - v * (eye.head<2>().dot(v.head<2>()) / flat);
  return ProfilePoint{at.head<2>().norm(), at.z()};
}

ProfilePoint highest_pass(const SightRays& rays, const Eigen::Matrix3d& vessel_from_camera,
                          const Vector3d& eye) {
  ProfilePoint highest;
  for (const auto* side : {&rays.left, &rays.right}) {
    for (const Vector3d& ray : *side) {
      const auto pass = pass_of(ray, vessel_from_camera, eye);
      if (pass && pass->height_mm > highest.height_mm) highest = *pass;
    }
  }
  return highest;
}

// The profile as the closest approaches of the outline's sight lines to the axis, from foot to rim.
std::vector<ProfilePoint> rough_profile(const SightRays& rays,
                                        const Eigen::Matrix3d& vessel_from_camera,
                                        const Vector3d& eye, ProfilePoint foot, ProfilePoint rim) {
  std::vector<ProfilePoint> passes;
  for (const auto* side : {&rays.left, &rays.right}) {
    for (const Vector3d& ray : *side) {
      const auto pass = pass_of(ray, vessel_from_camera, eye);
      if (pass && pass->height_mm > 0.02 * rim.height_mm &&
          pass->height_mm < 0.98 * rim.height_mm) {
        passes.push_back(*pass);
      }
    }
  }
  std::sort(passes.begin(), passes.end(),
            [](const ProfilePoint& a, const ProfilePoint& b) { return a.height_mm < b.height_mm; });
  std::vector<ProfilePoint> line = {foot};
  const std::size_t group = std::max<std::size_t>(1, passes.size() / 24);
  for (std::size_t i = 0; i + group <= passes.size(); i += group) {
    ProfilePoint mean;
    for (std::size_t k = i; k < i + group; ++k) {
      mean.radius_mm += passes[k].radius_mm / static_cast<double>(group);
      mean.height_mm += passes[k].height_mm / static_cast<double>(group);
    }
    line.push_back(mean);
  }
  line.push_back(rim);
  return line;
}

// The direction of the axis in plan, from the outlines or else from the foot.
std::optional<Vector3d> axis_direction(const SightRays& rays, const Vector3d& up) {
  Vector3d sum = Vector3d::Zero();
  const auto take = [&](const std::vector<Vector3d>& list) {
    Vector3d mean = Vector3d::Zero();
    for (const Vector3d& ray : list) mean += (ray - up.dot(ray) * up).normalized();
    if (!list.empty()) sum += mean.normalized();
  };
  if (!rays.left.empty() && !rays.right.empty()) {
    take(rays.left);
    take(rays.right);
  } else {
    take(rays.base);
  }
  if (!(sum.norm() > 1e-9)) return std::nullopt;
  return sum.normalized();
}

}  // namespace

SightRays rays_of(const Lens<double>& lens, const Marks& marks) {
  return {rays_of(lens, marks.rim), rays_of(lens, marks.base), rays_of(lens, marks.left),
          rays_of(lens, marks.right)};
}

std::optional<SeenVessel> seen_with(const SightRays& rays, const Vector3d& up) {
  SeenVessel seen;
  // A rim that is level with the eye or above it is left to the outline.
  const auto rim = rays.rim.empty() ? std::nullopt : rim_in_plane(rays.rim, up);
  if (rim) {
    seen.has_rim = true;
    seen.rim = *rim;
    seen.plan = rim->centre + up;  // the centre's horizontal part
    if (!(seen.plan.norm() > 1e-6)) return std::nullopt;
    seen.towards = seen.plan.normalized();
  } else {
    const auto towards = axis_direction(rays, up);
    if (!towards) return std::nullopt;
    seen.plan = *towards;
    seen.towards = *towards;
  }
  seen.sine = foot_angle_sine(rays, up, seen.towards);
  const auto ratio = rim_to_shelf_ratio(rays, up, seen.plan, seen.sine);
  if (!ratio || !(*ratio > 0.0) || (seen.has_rim && !(*ratio < 0.999))) return std::nullopt;
  seen.ratio = *ratio;
  return seen;
}

std::optional<VesselSketch> sketched(const SightRays& rays, const SeenVessel& seen,
                                     const Vector3d& up, double shelf_mm, bool round_base,
                                     double hidden_mm, std::size_t control_count) {
  const double q = (shelf_mm - hidden_mm) * seen.ratio;
  if (!(shelf_mm > 0.0) || !(q > 0.0) || !std::isfinite(shelf_mm)) return std::nullopt;
  VesselSketch sketch;
  sketch.axes << seen.towards.cross(up), seen.towards, up;
  sketch.distance_mm = q * seen.plan.norm();
  sketch.eye_height_mm = shelf_mm;
  const Vector3d eye(0.0, -sketch.distance_mm, shelf_mm);
  ProfilePoint foot{sketch.distance_mm * seen.sine, 0.0};
  // The wall goes on below where it comes into sight.
  if (hidden_mm > 0.0) foot = {0.95 * foot.radius_mm, hidden_mm / 2.0};
  if (round_base) foot.radius_mm = 0.0;
  ProfilePoint top;
  if (seen.has_rim) {
    top = {q * seen.rim.radius, shelf_mm - q};
  } else {
    top = highest_pass(rays, sketch.axes.transpose(), eye);
    if (!(top.height_mm > 0.0)) return std::nullopt;
  }
  const auto profile =
      Profile::through(rough_profile(rays, sketch.axes.transpose(), eye, foot, top), control_count);
  if (!profile) return std::nullopt;
  for (const ProfilePoint& p : profile->controls()) {
    sketch.controls.push_back(std::max(p.radius_mm, 0.1));
    sketch.controls.push_back(p.height_mm);
  }
  sketch.controls[1] = foot.height_mm;
  if (round_base) {
    sketch.controls[0] = 0.0;
    sketch.controls[3] = foot.height_mm;
  }
  return sketch;
}

std::vector<Vector3d> ups_of_rim(const std::vector<Vector3d>& rim) {
  std::vector<Vector2d> flat;
  for (const Vector3d& ray : rim) flat.push_back(ray.head<2>());
  std::vector<Vector3d> ups;
  const auto conic = fit_ellipse(flat);
  if (!conic) return ups;
  if (const auto circles = circle_poses(*conic)) {
    for (const CirclePose& circle : *circles) ups.push_back(circle.normal);
  }
  return ups;
}

Vector3d upwards(const Vector3d& normal) {
  return (normal.y() > 0.0 ? -1.0 : 1.0) * normal.normalized();
}

}  // namespace potshadow::internal

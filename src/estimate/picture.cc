// SPDX-License-Identifier: MIT
#include "estimate/picture.h"

#include <Eigen/Geometry>
#include <cmath>

namespace potshadow::internal {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

// The derivative by the turn of what the turned point moves by `slope`.
Vector3d by_turn(const Vector3d& turn, const Vector3d& turned, const Vector3d& slope) {
  const Vector3d moment = turned.cross(slope);
  const double angle = turn.norm();
  if (!(angle > 0.0)) return moment;
  const double half = std::sin(angle / 2.0) / angle;
  const double rest = (angle - std::sin(angle)) / (angle * angle * angle);
  const Vector3d across = turn.cross(moment);
  return moment - 2.0 * half * half * across + rest * turn.cross(across);
}

// The sight line through the pane, as in seen_through_glass() (geometry/glass.h), kept step by
// step.
class Glass {
 public:
  Glass(const Vector3d& point, const Vector3d& eye, const Vector3d& normal, double thickness_mm,
        double index)
      : normal_(normal), thickness_mm_(thickness_mm), bend_(index * index - 1.0), seen_(point) {
    for (Step& step : steps_) {
      step.ray = seen_ - eye;
      step.length = step.ray.norm();
      step.rise = step.ray.dot(normal);
      step.cosine = std::abs(step.rise) / step.length;
      step.root = std::sqrt(bend_ + step.cosine * step.cosine);
      step.part = 1.0 - step.cosine / step.root;
      seen_ = point - normal * (thickness_mm * step.part);
    }
  }

  const Vector3d& seen() const { return seen_; }

  // Derivatives of what the seen point moves by a slope.
  struct Slopes {
    Vector3d by_point = Vector3d::Zero();
    Vector3d by_eye = Vector3d::Zero();
    Vector3d by_normal = Vector3d::Zero();
    double by_thickness = 0.0;
  };
  Slopes slopes(Vector3d by_seen) const {
    Slopes out;
    for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
      out.by_point += by_seen;
      out.by_normal -= thickness_mm_ * step->part * by_seen;
      const double by_shift = -normal_.dot(by_seen);
      out.by_thickness += by_shift * step->part;
      const double by_cosine =
          -by_shift * thickness_mm_ * bend_ / (step->root * step->root * step->root);
      const double by_rise = std::copysign(by_cosine / step->length, by_cosine * step->rise);
      out.by_normal += by_rise * step->ray;
      by_seen =
          by_rise * normal_ - by_cosine * step->cosine / (step->length * step->length) * step->ray;
      out.by_eye -= by_seen;
    }
    out.by_point += by_seen;
    return out;
  }

 private:
  struct Step {
    Vector3d ray;
    double length = 0.0;
    double rise = 0.0;  // of the ray along the pane's normal
    double cosine = 0.0;
    double root = 0.0;
    double part = 0.0;  // of the thickness that the ray is shifted by
  };

  Vector3d normal_;
  double thickness_mm_;
  double bend_;
  Vector3d seen_;
  std::array<Step, kGlassSteps> steps_;
};

}  // namespace

Picture picture_along(const Setting& setting, const double* pose, const double* lens,
                      const double* pane, const Vector3d& point, const Vector2d& direction) {
  const Vector3d eye(0.0, -pose[kDistanceMm], pose[kEyeHeightMm]);
  const Vector3d normal = pane_normal(pane);
  const double thickness_mm = setting.glass ? pane[kPaneThicknessMm] : 0.0;
  const Glass glass(point, eye, normal, thickness_mm, setting.glass_index);
  const Vector3d turn(pose[kTurnX], pose[kTurnY], pose[kTurnZ]);
  const Vector3d before = setting.camera_from_vessel_start * (glass.seen() - eye);
  Vector3d at;
  ceres::AngleAxisRotatePoint(turn.data(), before.data(), at.data());
  const Lens<double> through = lens_of(lens, setting.focal_start_px);
  const Vector2d flat = at.head<2>() / at.z();
  const double q = flat.squaredNorm();

  Picture out;
  out.image = project(through, at);
  const double along = through.focal_px * direction.dot(flat);
  const double bend = 1.0 + q * (through.k1 + q * through.k2);
  out.by_lens[kLogFocal] = along * bend;
  out.by_lens[kCxPx] = direction.x();
  out.by_lens[kCyPx] = direction.y();
  out.by_lens[kK1] = along * q;
  out.by_lens[kK2] = along * q * q;
  const Vector2d by_flat = through.focal_px * bend * direction +
                           2.0 * along * (through.k1 + 2.0 * q * through.k2) * flat;
  const Vector3d by_at = Vector3d(by_flat.x(), by_flat.y(), -by_flat.dot(flat)) / at.z();
  Eigen::Map<Vector3d>(out.by_pose.data() + kTurnX) = by_turn(turn, at, by_at);
  const Vector3d back = -turn;
  Vector3d by_before;
  ceres::AngleAxisRotatePoint(back.data(), by_at.data(), by_before.data());
  const Vector3d by_seen = setting.camera_from_vessel_start.transpose() * by_before;
  const Glass::Slopes slopes = glass.slopes(by_seen);
  out.by_point = slopes.by_point;
  const Vector3d by_eye = slopes.by_eye - by_seen;
  out.by_pose[kDistanceMm] = -by_eye.y();
  out.by_pose[kEyeHeightMm] = by_eye.z();
  if (setting.glass) {
    out.by_pane[kPaneAzimuthRad] =
        slopes.by_normal.x() * normal.y() - slopes.by_normal.y() * normal.x();
    out.by_pane[kPaneThicknessMm] = slopes.by_thickness;
  }
  return out;
}

}  // namespace potshadow::internal

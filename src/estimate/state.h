// SPDX-License-Identifier: MIT
// The unknowns of the joint estimate, and the picture that they predict of any point.
#pragma once

#include <ceres/rotation.h>

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "estimate/input.h"
#include "geometry/camera.h"
#include "geometry/glass.h"

// Internal to `estimate`. Each array is one parameter block of the solver; bare doubles carry their
// unit in the index names below. A vessel of revolution looks the same from all round, so the eye
// is put at azimuth -90 degrees: C = (0, -distance, height) in the vessel frame.
namespace potshadow::internal {

// pose: a small rotation vector applied after `camera_from_vessel_start`, then C.
enum PoseIndex : int { kTurnX, kTurnY, kTurnZ, kDistanceMm, kEyeHeightMm, kPoseSize };
// lens: focal length as the logarithm of its ratio to `focal_start_px`.
enum LensIndex { kLogFocal, kCxPx, kCyPx, kK1, kK2, kLensSize };
// pane: azimuth of its normal against the y axis, thickness.
enum PaneIndex { kPaneAzimuthRad, kPaneThicknessMm, kPaneSize };
// tilt: rotation vector (x, y) from the shelf's frame to the vessel's.
enum TiltIndex { kTiltX, kTiltY, kTiltSize };
// out of round, as a part of the radius: seen from the side, at the foot's front, and the rim's
// ellipse in cos 2a and sin 2a.
enum RoundIndex { kBodyRound, kFootRound, kRimCos2, kRimSin2, kRoundSize };
// reference: place on the shelf (on the pane: along and up), turn, lean, true size, and the offset
// that ties it to the vessel (riser, or pane to axis).
enum ReferenceIndex {
  kAlongMm,
  kAcrossMm,
  kYawRad,
  kLeanRad,
  kWidthMm,
  kHeightMm,
  kOffsetMm,
  kReferenceSize
};

struct State {
  Eigen::Matrix3d camera_from_vessel_start = Eigen::Matrix3d::Identity();
  double focal_start_px = 1.0;
  std::array<double, kPoseSize> pose{};
  std::array<double, kLensSize> lens{};
  std::array<double, kPaneSize> pane{};
  std::array<double, kTiltSize> tilt{};
  std::array<double, kRoundSize> round{};
  std::vector<std::array<double, kReferenceSize>> references;
  std::vector<std::array<double, kReferenceSize>> discs;  // see disc.h
  std::vector<double> controls;                           // r0, z0, r1, z1, ...

  std::size_t control_count() const { return controls.size() / 2; }
};

// What stays fixed while solving, beside the marks.
struct Setting {
  Eigen::Matrix3d camera_from_vessel_start = Eigen::Matrix3d::Identity();
  double focal_start_px = 1.0;
  bool glass = false;
  double glass_index = 1.52;
};

template <class T>
using Vector2 = Eigen::Matrix<T, 2, 1>;
template <class T>
using Vector3 = Eigen::Matrix<T, 3, 1>;

template <class T>
Lens<T> lens_of(const T* lens, double focal_start_px) {
  using std::exp;
  return {exp(lens[kLogFocal]) * focal_start_px, lens[kCxPx], lens[kCyPx], lens[kK1], lens[kK2]};
}

// Unit normal of the pane, from the eye's side into the case, in the shelf's frame.
template <class T>
Vector3<T> pane_normal(const T* pane) {
  using std::cos;
  using std::sin;
  return {sin(pane[kPaneAzimuthRad]), cos(pane[kPaneAzimuthRad]), T(0.0)};
}

// Returns the pixel of a point in the vessel frame. The pane is taken square to the vessel's axis:
// the half-degree between axis and shelf changes its shift by less than a hundredth of itself.
template <class T>
Vector2<T> image_of(const Setting& setting, const T* pose, const T* lens, const T* pane,
                    const Vector3<T>& point, bool behind_glass) {
  const Vector3<T> eye(T(0.0), -pose[kDistanceMm], pose[kEyeHeightMm]);
  Vector3<T> seen = point;
  if (setting.glass && behind_glass) {
    seen = seen_through_glass<T>(point, eye, pane_normal(pane), pane[kPaneThicknessMm],
                                 setting.glass_index);
  }
  const Vector3<T> turned = setting.camera_from_vessel_start.template cast<T>() * (seen - eye);
  Vector3<T> in_camera;
  ceres::AngleAxisRotatePoint(pose, turned.data(), in_camera.data());
  return project(lens_of(lens, setting.focal_start_px), in_camera);
}

// Returns the corner (u, v) mm of a reference, from its lower left, in the vessel frame.
template <class T>
Vector3<T> reference_point(Place place, const T* reference, const T* pane, const T* tilt,
                           const T& u_mm, const T& v_mm) {
  using std::cos;
  using std::sin;
  const T c = cos(reference[kYawRad]);
  const T s = sin(reference[kYawRad]);
  Vector3<T> on_shelf;
  if (place == Place::kOnGlass) {
    const Vector3<T> normal = pane_normal(pane);
    const Vector3<T> along(normal.y(), -normal.x(), T(0.0));
    const T a = reference[kAlongMm] + c * u_mm - s * v_mm;
    const T b = reference[kAcrossMm] + s * u_mm + c * v_mm;
    on_shelf = along * a - normal * reference[kOffsetMm];
    on_shelf.z() = b;
  } else {
    // How far the face goes back and up for each millimetre of its height.
    T back = T(1.0);
    T up = T(0.0);
    if (place == Place::kStanding) {
      back = T(0.0);
      up = T(1.0);
    } else if (place == Place::kLeaning) {
      back = sin(reference[kLeanRad]);
      up = cos(reference[kLeanRad]);
    }
    on_shelf = {reference[kAlongMm] + c * u_mm - s * back * v_mm,
                reference[kAcrossMm] + s * u_mm + c * back * v_mm,
                up * v_mm - reference[kOffsetMm]};
  }
  const T turn[3] = {tilt[kTiltX], tilt[kTiltY], T(0.0)};
  Vector3<T> point;
  ceres::AngleAxisRotatePoint(turn, on_shelf.data(), point.data());
  return point;
}

// Corner k of a reference of the state's width and height, in the order of RectangleReference.
template <class T>
Vector3<T> reference_corner(Place place, const T* reference, const T* pane, const T* tilt,
                            std::size_t k) {
  const T u = k == 1 || k == 2 ? reference[kWidthMm] : T(0.0);
  const T v = k >= 2 ? reference[kHeightMm] : T(0.0);
  return reference_point(place, reference, pane, tilt, u, v);
}

}  // namespace potshadow::internal

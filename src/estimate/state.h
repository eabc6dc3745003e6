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
// unit in the index names below. A vessel of revolution looks the same from all round, so in each
// photograph the eye is put at azimuth -90 degrees: C = (0, -distance, height) in the vessel frame
// of that photograph. What is common to all photographs is the vessel's body.
namespace potshadow::internal {

// pose: a small rotation vector applied after `camera_from_vessel_start`, then C.
enum PoseIndex : int { kTurnX, kTurnY, kTurnZ, kDistanceMm, kEyeHeightMm, kPoseSize };
// lens: focal length as the logarithm of its ratio to `focal_start_px`.
enum LensIndex { kLogFocal, kCxPx, kCyPx, kK1, kK2, kLensSize };
// pane: azimuth of its normal against the y axis, thickness.
enum PaneIndex { kPaneAzimuthRad, kPaneThicknessMm, kPaneSize };
// tilt: rotation vector (x, y) from the shelf's frame to the vessel's.
enum TiltIndex { kTiltX, kTiltY, kTiltSize };
// out of round, as a part of the radius and in cos 2a and sin 2a of the azimuth (against the first
// direction): the whole body, and what foot and rim have of their own.
enum RoundIndex { kBodyCos2, kBodySin2, kFootCos2, kFootSin2, kRimCos2, kRimSin2, kRoundSize };
// reference: place on the shelf (on the pane: along and up; beside: to the right and up), turn,
// lean (beside: turn in its own face), true size, and the offset that ties it to the vessel (riser,
// pane to axis, or depth behind the axis).
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
// seam, where shelf and pane meet: its two marks along the pane, and how far below the vessel's
// shelf it is.
enum SeamIndex { kSeamFirstMm, kSeamSecondMm, kSeamDropMm, kSeamSize };
// place of a neighbour: on the shelf, how far below the vessel's that shelf is, and its own lean.
enum NeighbourIndex { kBesideMm, kBehindMm, kBelowMm, kLeanX, kLeanY, kNeighbourSize };
// lens that several photographs share: logarithm of the focal length as 35 mm equivalent, k1.
enum SharedLensIndex { kSharedLogFocal, kSharedK1, kSharedLensSize };

// How oval foot and rim are of their own, as a part of the body (common practice, no source).
inline constexpr double kOwnOval = 0.3;

// A vessel of revolution, but for being oval.
struct Body {
  std::array<double, kRoundSize> round{};
  std::vector<double> controls;  // of the profile: r0, z0, r1, z1, ...

  std::size_t control_count() const { return controls.size() / 2; }
};

struct NeighbourState {
  std::array<double, kNeighbourSize> place{};
  Body body;
};

// What belongs to one photograph.
struct View {
  std::array<double, kPoseSize> pose{};
  std::array<double, kLensSize> lens{};
  std::array<double, kPaneSize> pane{};
  std::array<double, kTiltSize> tilt{};
  std::vector<std::array<double, kReferenceSize>> flats;  // in the order of flats_of (flat.h)
  std::vector<std::array<double, kReferenceSize>> discs;  // see disc.h
  std::vector<std::array<double, kSeamSize>> seams;       // in the order of seams_of (flat.h)
  std::vector<NeighbourState> neighbours;
};

struct State {
  std::vector<View> views;  // one a photograph
  Body vessel;
  std::vector<std::array<double, kSharedLensSize>> lenses;  // one a group of photographs
};

// What stays fixed while solving, beside the marks; of one photograph.
struct Setting {
  Eigen::Matrix3d camera_from_vessel_start = Eigen::Matrix3d::Identity();
  double focal_start_px = 1.0;
  bool glass = false;
  double glass_index = 1.52;
  double direction_rad = 0.0;  // from which it is seen
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

// Returns a point of the shelf's frame in the vessel's.
template <class T>
Vector3<T> turned_by(const T* tilt, const Vector3<T>& on_shelf) {
  const T turn[3] = {tilt[kTiltX], tilt[kTiltY], T(0.0)};
  Vector3<T> point;
  ceres::AngleAxisRotatePoint(turn, on_shelf.data(), point.data());
  return point;
}

// Returns the point (u, v) mm of a reference in the vessel frame: from its lower left corner, or
// from its centre where it is beside the vessel.
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
  } else if (place == Place::kBeside) {
    const T cr = cos(reference[kLeanRad]);
    const T sr = sin(reference[kLeanRad]);
    const T level = cr * u_mm - sr * v_mm;
    on_shelf = {reference[kAlongMm] + c * level, reference[kOffsetMm] + s * level,
                reference[kAcrossMm] + sr * u_mm + cr * v_mm};
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
  return turned_by(tilt, on_shelf);
}

}  // namespace potshadow::internal

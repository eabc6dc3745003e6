// SPDX-License-Identifier: MIT
// What a plane-parallel pane of glass does to a sight line.
#pragma once

#include <Eigen/Core>
#include <cmath>

#include "core/units.h"

// Model: a pane of thickness t and index n, air on both sides, shifts a ray along the pane's normal
// by t (1 - cos a / sqrt(n^2 - sin^2 a)), a being the angle between ray and normal; its direction
// stays. Things behind the pane look nearer by that much. Where the pane stands does not matter.
// Units: millimetres. Requires n >= 1.
// Source: refraction by a plane-parallel plate, any optics text; Agrawal et al., CVPR 2012, for
// cameras behind flat layers.
namespace potshadow {

// Returns the shift along the normal for a ray that makes an angle of cosine `cos_angle` > 0 with
// it.
template <class T>
T glass_shift_mm(const T& thickness_mm, double index, const T& cos_angle) {
  using std::sqrt;
  const T sin_squared = T(1.0) - cos_angle * cos_angle;
  return thickness_mm * (T(1.0) - cos_angle / sqrt(T(index * index) - sin_squared));
}

inline constexpr int kGlassSteps = 2;

// Returns where a point behind the pane seems to stand, for an eye on the other side: moved towards
// the eye along `normal` (unit length, from the eye's side into the case). All in one frame. The
// angle is that of the refracted sight line, found by fixed-point steps; each gains a factor of
// (shift / distance), so two leave less than a micrometre for panes a hundred times nearer than
// thick. Vectors in the wrong order are found out by every test of the pane: hence NOLINT.
template <class T>
Eigen::Matrix<T, 3, 1> seen_through_glass(const Eigen::Matrix<T, 3, 1>& point,  // NOLINT
                                          const Eigen::Matrix<T, 3, 1>& eye,
                                          const Eigen::Matrix<T, 3, 1>& normal,
                                          const T& thickness_mm, double index) {
  Eigen::Matrix<T, 3, 1> seen = point;
  for (int i = 0; i < kGlassSteps; ++i) {
    const Eigen::Matrix<T, 3, 1> ray = seen - eye;
    using std::abs;
    const T cos_angle = abs(ray.dot(normal)) / ray.norm();
    seen = point - normal * glass_shift_mm(thickness_mm, index, cos_angle);
  }
  return seen;
}

// Returns the sideways displacement of a ray, in millimetres: shift times the sine of the angle.
double lateral_displacement_mm(Mm thickness, double index, Rad angle);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A pinhole camera with radial lens distortion, as plain templates for doubles and solver jets.
#pragma once

#include <Eigen/Core>

#include "core/units.h"

// Model (OpenCV's): a camera point (X, Y, Z) has the normalised image x = X / Z, y = Y / Z; the
// lens moves it to (x, y) (1 + k1 q + k2 q^2), q = x^2 + y^2; the pixel is (f x + cx, f y + cy).
// Square pixels, no skew. Camera frame: x right, y down, z forward. Pixels: (0, 0) at the centre of
// the top-left one. Failure: points at or behind the camera have no pixel; callers keep Z > 0. The
// inverse of the distortion is by fixed-point steps, sound for |k1 q + k2 q^2| well below 1/3.
// Source: Hartley & Zisserman, "Multiple View Geometry", 2nd ed., 2004, sections 6.1 and 7.4.
namespace potshadow {

template <class T>
struct Lens {
  T focal_px;
  T cx_px;
  T cy_px;
  T k1;
  T k2;
};

// Returns the normalised image point after the lens.
template <class T>
Eigen::Matrix<T, 2, 1> distorted(const Lens<T>& lens, const Eigen::Matrix<T, 2, 1>& normalised) {
  const T q = normalised.squaredNorm();
  return normalised * (T(1.0) + q * (lens.k1 + q * lens.k2));
}

// Returns the pixel of a point in the camera frame. Requires Z > 0.
template <class T>
Eigen::Matrix<T, 2, 1> project(const Lens<T>& lens, const Eigen::Matrix<T, 3, 1>& point) {
  const Eigen::Matrix<T, 2, 1> flat(point.x() / point.z(), point.y() / point.z());
  const Eigen::Matrix<T, 2, 1> bent = distorted(lens, flat);
  return {lens.focal_px * bent.x() + lens.cx_px, lens.focal_px * bent.y() + lens.cy_px};
}

// Returns the normalised image point (x, y) of a pixel, distortion removed; the sight line in the
// camera frame is (x, y, 1).
Eigen::Vector2d undistorted(const Lens<double>& lens, const PhotoPoint& pixel);

}  // namespace potshadow

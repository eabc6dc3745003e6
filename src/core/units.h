// SPDX-License-Identifier: MIT
// Small types for lengths, pixels and angles, and the points they make up.
#pragma once

#include <compare>

// Bare doubles do not say what they measure, so public interfaces use these. A quantity is made
// explicitly (`Mm{12.5}`) and read through `.value`; adding millimetres to pixels does not compile.
// Inside solver functors bare doubles carry their unit in the name instead (`rim_radius_mm`).
//
// Frames
// - VesselPoint: millimetres; origin at the centre of the base on the shelf, z up along the axis.
// - CameraPoint: millimetres; OpenCV's camera frame (x right, y down, z forward).
// - PhotoPoint: pixels of the upright photograph; (0, 0) is the centre of the top-left pixel, x
//   right, y down.
// - ProfilePoint: millimetres in the half-plane through the axis; radius >= 0, height above base.
namespace potshadow {

template <class Tag>
struct Quantity {
  double value = 0.0;

  friend constexpr auto operator<=>(const Quantity&, const Quantity&) = default;
  constexpr Quantity operator-() const { return {-value}; }
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return {a.value + b.value}; }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return {a.value - b.value}; }
  friend constexpr Quantity operator*(Quantity a, double k) { return {a.value * k}; }
  friend constexpr Quantity operator*(double k, Quantity a) { return {k * a.value}; }
  friend constexpr Quantity operator/(Quantity a, double k) { return {a.value / k}; }
  // The ratio of two like quantities is a plain number.
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value / b.value; }
};

using Mm = Quantity<struct MmTag>;
using Px = Quantity<struct PxTag>;
using Rad = Quantity<struct RadTag>;

struct PhotoPoint {
  double x_px = 0.0;
  double y_px = 0.0;
  friend bool operator==(const PhotoPoint&, const PhotoPoint&) = default;
};

struct VesselPoint {
  double x_mm = 0.0;
  double y_mm = 0.0;
  double z_mm = 0.0;
  friend bool operator==(const VesselPoint&, const VesselPoint&) = default;
};

struct CameraPoint {
  double x_mm = 0.0;
  double y_mm = 0.0;
  double z_mm = 0.0;
  friend bool operator==(const CameraPoint&, const CameraPoint&) = default;
};

struct ProfilePoint {
  double radius_mm = 0.0;
  double height_mm = 0.0;
  friend bool operator==(const ProfilePoint&, const ProfilePoint&) = default;
};

}  // namespace potshadow

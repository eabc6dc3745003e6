// SPDX-License-Identifier: MIT
// The outer profile of a vessel as a parametric cubic B-spline.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "core/result.h"
#include "core/units.h"

// Model: the vessel's outer surface is the profile (r(s), z(s)), s in [0, 1], turned about the z
// axis. The curve runs from the edge of the base, (base radius, 0), to the outer edge of the rim.
// A round-bottomed vessel starts on the axis, at (0, 0). It is a clamped uniform cubic B-spline, so
// the first and last control points lie on the curve, and flat, inturned and everted rims and sharp
// shoulders are all representable. Lengths in millimetres; the outward normal lies to the right of
// the direction of travel.
//
// Failure: fewer than four control points, a negative radius or a number that is not finite.
// Source: de Boor, "A Practical Guide to Splines", 1978, chapter IX (B-spline recurrence).
namespace potshadow {

// The four control points that matter at one place on the curve, and their weights there.
struct ProfileBasis {
  std::size_t first = 0;              // index of the first of the four control points
  std::array<double, 4> weight{};     // of the point
  std::array<double, 4> slope{};      // of its derivative by s
  std::array<double, 4> curvature{};  // of its second derivative by s
};

// Returns the basis at `s` for a profile of `count` control points. `s` is clamped to [0, 1].
// Requires count >= 4.
ProfileBasis profile_basis(double s, std::size_t count);

class Profile {
 public:
  // Returns the profile with these control points, base first. Fails with kBadValue.
  static Result<Profile> from_controls(std::vector<ProfilePoint> controls);

  // Returns a profile of `count` control points that passes as near as it can (least squares, with
  // a trace of smoothing) to the points of a polyline, base first, its ends on the polyline's ends.
  // Requires at least two different points. Fails with kBadValue, kTooFewMarks.
  static Result<Profile> through(const std::vector<ProfilePoint>& polyline, std::size_t count);

  const std::vector<ProfilePoint>& controls() const { return controls_; }

  // Returns the point at `s`, clamped to [0, 1].
  ProfilePoint at(double s) const;
  // Returns the derivative by `s` (not of unit length).
  ProfilePoint slope_at(double s) const;
  // Returns the outward unit normal. Where the curve stands still it is (1, 0).
  ProfilePoint normal_at(double s) const;

  // Returns `count` >= 2 points at equal steps of `s`, base first.
  std::vector<ProfilePoint> sampled(std::size_t count) const;

  // Returns the profile with every length multiplied by `factor` > 0.
  Profile scaled(double factor) const;
  // Returns the profile with radii and heights multiplied by factors > 0 of their own.
  Profile scaled(double across, double upright) const;

  friend bool operator==(const Profile&, const Profile&) = default;

 private:
  explicit Profile(std::vector<ProfilePoint> controls) : controls_(std::move(controls)) {}
  std::vector<ProfilePoint> controls_;
};

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The vessel's surface as one eye sees it: contacts, circles, their pictures, and what hides what.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>
#include <vector>

#include "estimate/matching.h"
#include "estimate/state.h"
#include "geometry/camera.h"
#include "vessel/profile.h"

// Internal to `estimate`. The body's own frame, millimetres, the eye at azimuth kEyeAzimuth. A
// sight line touches the surface at a contact; all contacts make the outline. What the pane does is
// in every picture in full, and in where the contacts lie near enough.
namespace potshadow::internal {

inline constexpr double kEyeAzimuth = -std::numbers::pi / 2.0;

// One body in one photograph, both of which must outlive it, with `discs` latitudes for what hides
// what.
class SeenSurface {
 public:
  SeenSurface(const Sight& sight, const Body& body, std::size_t discs);

  // Returns how far the i-th of so many even steps is, 0 to 1.
  static double part(std::size_t i, std::size_t count);

  // The profile at a place, and with other weights of the same controls.
  ProfilePoint point_at(const ProfileBasis& basis) const { return combined(basis, basis.weight); }
  ProfilePoint combined(const ProfileBasis& basis, const std::array<double, 4>& weight) const;

  // image_of with everything that does not depend on the point computed once.
  Eigen::Vector2d image(const Eigen::Vector3d& point) const;

  // True where the sight line to `point` runs through the inside of one of the discs.
  bool covered(const Eigen::Vector3d& point) const;

  // The contact at `s` on one side (-1 left, +1 right as seen), or nothing.
  struct Contact {
    ProfileBasis basis;
    double side = 1.0;
    double cosine = 0.0;                 // of its azimuth against the eye's
    Eigen::Vector2d outward{0.0, -1.0};  // the direction of its azimuth
    Eigen::Vector3d point = Eigen::Vector3d::Zero();
    bool from_outside = true;  // see touches_from_outside

    double azimuth() const { return kEyeAzimuth + side * std::acos(cosine); }
  };
  std::optional<Contact> contact(double s, double side) const;

  // Returns a place of the foot circle (s = 0) or the rim circle (s = 1).
  Match circle_point(double azimuth, double s) const;

  Eigen::Vector2d image(const Match& match) const { return image(surface_point(match, body_)); }

 protected:
  // Sets how the radius at a match feels the body's being oval.
  void on_body(Match& match) const;

  // What the body's being oval adds to its radius towards a place (x, y), as a part of it.
  double growth(double x, double y) const;

  const Sight& sight_;
  const Body& body_;
  Lens<double> lens_;
  Eigen::Vector3d eye_;
  Eigen::Vector3d pane_normal_;
  Eigen::Matrix3d camera_from_vessel_;
  double eye_rho_ = 0.0;
  // How oval the body is, in cos 2a and sin 2a of the azimuths seen from here.
  std::array<double, 2> oval_{};
  std::vector<ProfilePoint> discs_;

 private:
  // How far the pane carries the eye towards the vessel, near enough to place the contact points;
  // the picture of each is then computed in full.
  double eye_shift() const;

  // Whether a sight line that touches the surface passes it outside, not through it: its normal
  // curvature along the line must be convex. Where the picture of the contact points folds back on
  // itself, the stretch between the two cusps touches from inside; nobody sees it, however little
  // it lies within the outline. Source: J. J. Koenderink, "What does the occluding contour tell us
  // about solid shape?", Perception 13 (1984), from memory.
  bool touches_from_outside(const Contact& c, const ProfilePoint& p,
                            const ProfilePoint& slope) const;
};

}  // namespace potshadow::internal

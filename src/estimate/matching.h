// SPDX-License-Identifier: MIT
// Which point of the predicted vessel each mark belongs to.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "estimate/state.h"
#include "vessel/profile.h"

// Internal to `estimate`. A mark belongs to the nearest point of the curve it was marked on, in the
// picture: the rim circle, the foot circle, or the outline of its side. The outline is the outer
// edge of the union of the latitude discs: contact points of the surface, and the rim or foot
// circle where they stand out.
namespace potshadow::internal {

struct MarkRef {
  MarkKind kind = MarkKind::kRim;
  std::size_t number = 0;  // within its kind, from 0
  PhotoPoint at;
  double sd_px = 1.0;  // as stated
  bool traced = false;
};

// How one body is seen in one photograph. Pose and pane are in the body's own frame, in which the
// eye is at azimuth -90 degrees.
struct Sight {
  Setting setting;
  std::array<double, kPoseSize> pose{};
  std::array<double, kLensSize> lens{};
  std::array<double, kPaneSize> pane{};
};

// Returns how the vessel is seen.
inline Sight vessel_sight(const Setting& setting, const View& view) {
  return {setting, view.pose, view.lens, view.pane};
}

// A point of the surface, held fixed while derivatives are taken: by the envelope theorem the
// distance along `normal` then has the right derivative.
struct Match {
  double s = 0.0;  // along the profile
  ProfileBasis basis;
  double azimuth_rad = 0.0;
  std::array<double, kRoundSize> round_weight{};  // how the radius there feels each out-of-round
  Eigen::Vector2d normal = Eigen::Vector2d::UnitX();  // across the curve, in the picture

  // Whether it is a contact point of the outline, not a point of the rim or foot circle.
  bool on_outline() const {
    return round_weight[kFootCos2] == 0.0 && round_weight[kFootSin2] == 0.0 &&
           round_weight[kRimCos2] == 0.0 && round_weight[kRimSin2] == 0.0;
  }
};

// Returns all marks in the order rim, base, left, right.
std::vector<MarkRef> mark_refs(const Marks& marks);

// Returns one match for each mark. Requires a body in front of the camera.
std::vector<Match> match_marks(const Sight& sight, const Body& body,
                               const std::vector<MarkRef>& marks);

// Returns whether the outline at `s` on the profile stands out to be seen, on either side: its
// sight line touches the surface there and runs through no other part of the vessel.
bool outline_seen(const Sight& sight, const Body& body, double s);

// Returns the radius and height of a match before any out-of-round, from the control coordinates.
template <class Controls>
ProfilePoint profile_point(const Match& match, const Controls& controls) {
  ProfilePoint p;
  for (std::size_t j = 0; j < match.basis.weight.size(); ++j) {
    p.radius_mm += match.basis.weight[j] * controls[2 * (match.basis.first + j)];
    p.height_mm += match.basis.weight[j] * controls[2 * (match.basis.first + j) + 1];
  }
  return p;
}

// Returns the point of the surface that a match stands for, in its body's frame, with the radius
// grown by a part of itself.
template <class T>
Vector3<T> grown_point(const Match& match, const T& radius_mm, const T& height_mm,
                       const T& growth) {
  const T radius = radius_mm * (T(1.0) + growth);
  return {radius * std::cos(match.azimuth_rad), radius * std::sin(match.azimuth_rad), height_mm};
}

// Returns how far its radius is grown as the body is out of round, as a part of itself.
inline double growth_at(const Match& match, const double* round) {
  double growth = 0.0;
  for (std::size_t i = 0; i < kRoundSize; ++i) growth += match.round_weight[i] * round[i];
  return growth;
}

// Returns the same point, grown like that.
inline Eigen::Vector3d surface_point(const Match& match, const Body& body) {
  const ProfilePoint p = profile_point(match, body.controls);
  return grown_point(match, p.radius_mm, p.height_mm, growth_at(match, body.round.data()));
}

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// The vessel's outer face as a surface that can be painted: its points, and what hides them.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "core/units.h"
#include "estimate/solved_view.h"
#include "vessel/profile.h"

// Model: the profile as frusta between rows evenly spaced along it, turned about the axis and, for
// the places of points, oval as `Oval` says; what hides a point is judged on the round frusta. A
// place on the face is its azimuth and how far up the wall it lies, along the profile from the
// base. Lengths in millimetres at the original's size; frame of solved_view.h.
namespace potshadow {

struct FacePlace {
  Eigen::Vector3d point = Eigen::Vector3d::Zero();
  Eigen::Vector3d normal = Eigen::Vector3d::UnitX();  // outward, of length 1
};

class PaintedFace {
 public:
  static constexpr std::size_t kRows = 241;

  // Requires a profile of some length.
  PaintedFace(const Profile& profile, const Oval& oval);

  double length_mm() const { return along_.back(); }
  double widest_radius_mm() const;

  // Returns the place; past the profile's ends its last frusta go on.
  FacePlace at(double azimuth_rad, double along_mm) const;
  // Returns radius and height there, round.
  ProfilePoint profile_at(double along_mm) const;
  // Returns how far up the wall the face reaches a height, at its widest place there; the nearest
  // end for heights that it does not reach.
  double along_at_height(double height_mm) const;

  // Returns whether the ray from a place of the face to an eye outside runs through the vessel. The
  // inside of the vessel hides as its outer face does.
  bool hidden_from(const Eigen::Vector3d& eye_mm, double azimuth_rad, double along_mm) const;

  // Where a ray first meets the outer face.
  struct Meeting {
    double azimuth_rad = 0.0;
    double along_mm = 0.0;
  };
  // Returns it; none where the ray meets nothing or the inside first.
  std::optional<Meeting> met_by(const Eigen::Vector3d& from_mm, const Eigen::Vector3d& along) const;

 private:
  FacePlace placed(double azimuth_rad, double along_mm, double growth) const;

  Oval oval_;
  std::vector<ProfilePoint> rows_;  // base first
  std::vector<double> along_;       // of each row
};

}  // namespace potshadow

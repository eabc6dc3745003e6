// SPDX-License-Identifier: MIT
// How one photograph sees the vessel as solved: from a point of it to a pixel.
#pragma once

#include <Eigen/Core>
#include <optional>

#include "core/units.h"
#include "geometry/camera.h"

// Frame: that of the vessel, origin at the centre of the base, z up, millimetres; the first
// photograph was taken from azimuth -90 degrees, one of direction d from d - 90. Pixels of the
// upright photograph, turned as its marks were. Model: pinhole and lens of camera.h behind the pane
// of glass.h, which stands square to the shelf.
namespace potshadow {

struct SolvedView {
  Eigen::Vector3d eye_mm = Eigen::Vector3d::Zero();
  Eigen::Matrix3d camera_from_vessel = Eigen::Matrix3d::Identity();
  Lens<double> lens{1.0, 0.0, 0.0, 0.0, 0.0};
  struct Pane {
    Eigen::Vector3d normal = Eigen::Vector3d::UnitY();  // from the eye's side into the case
    double thickness_mm = 0.0;
    double index = 1.52;
  };
  std::optional<Pane> pane{};

  // Returns where a point of the vessel lies on the photograph, inside it or not; none where it is
  // behind the camera.
  std::optional<PhotoPoint> pixel(const Eigen::Vector3d& point) const;

  // A ray of light beyond the pane: from the apparent eye on.
  struct Ray {
    Eigen::Vector3d from_mm;
    Eigen::Vector3d along;  // of length 1
  };
  // Returns the ray that makes a pixel.
  Ray ray(const PhotoPoint& pixel) const;

  // Returns where the eye would be without the pane, for the light from that point: the ray through
  // the case runs straight from there.
  Eigen::Vector3d apparent_eye_mm(const Eigen::Vector3d& point) const;
};

// How the vessel's plan departs from a circle: at azimuth a the radius is 1 + cos2 cos 2a + sin2
// sin 2a times that of the profile.
struct Oval {
  double cos2 = 0.0;
  double sin2 = 0.0;
};

}  // namespace potshadow

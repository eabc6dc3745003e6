// SPDX-License-Identifier: MIT
// A vessel sketched in closed form from the sight lines through its marks.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <vector>

#include "estimate/input.h"
#include "estimate/state.h"

// Internal to `estimate`. All is in the camera frame, for a direction of "up" that is taken as
// given. Marks alone tell no length, so everything is first found for each millimetre that the eye
// stands above the shelf; with that height the sketch has millimetres.
namespace potshadow::internal {

// Sight lines through marks, as (x, y, 1) in the normalised image.
struct SightRays {
  std::vector<Eigen::Vector3d> rim;
  std::vector<Eigen::Vector3d> base;
  std::vector<Eigen::Vector3d> left;
  std::vector<Eigen::Vector3d> right;
};

// Returns the sight lines through a body's marks, without the lens's bending.
SightRays rays_of(const Lens<double>& lens, const Marks& marks);

// A rim circle in the plane up . X = -1: where its centre is seen, and its radius, both for each
// millimetre that the eye stands above it.
struct RimGuess {
  Eigen::Vector3d centre;
  double radius = 0.0;
};

// What a vessel's marks say with a given "up", for each millimetre that the eye stands above the
// shelf: `ratio` is the part of it that is above the rim, whose centre is `plan` away in plan.
// Where no rim is below the eye `plan` is a unit vector and `ratio` the distance.
struct SeenVessel {
  bool has_rim = false;
  RimGuess rim;
  Eigen::Vector3d plan;
  Eigen::Vector3d towards;  // level, from the eye to the axis
  double sine = 0.0;        // of the angle in plan between the axis and the outline at the foot
  double ratio = 0.0;
};

// Returns nothing where the marks do not hold together with this "up".
std::optional<SeenVessel> seen_with(const SightRays& rays, const Eigen::Vector3d& up);

// Returns how far the axis is from the eye in plan, for each millimetre of the eye's height.
inline double axis_reach(const SeenVessel& seen) { return seen.ratio * seen.plan.norm(); }

// A vessel as the marks have it once the eye's height above its shelf is known.
struct VesselSketch {
  Eigen::Matrix3d axes;  // vessel's axes in the camera frame: x right, y away, z up
  double distance_mm = 0.0;
  double eye_height_mm = 0.0;
  std::vector<double> controls;
};

// Returns the vessel for an eye `shelf_mm` above the shelf, with its profile from where the
// outline's sight lines pass the axis; nothing below `hidden_mm` is seen of it. Returns nothing
// where no profile comes of it.
std::optional<VesselSketch> sketched(const SightRays& rays, const SeenVessel& seen,
                                     const Eigen::Vector3d& up, double shelf_mm, bool round_base,
                                     double hidden_mm, std::size_t control_count);

// Returns the directions of "up" that the ellipse of a rim allows, either way round.
std::vector<Eigen::Vector3d> ups_of_rim(const std::vector<Eigen::Vector3d>& rim);

// Returns the direction turned towards the top of the picture, since photographs are upright.
Eigen::Vector3d upwards(const Eigen::Vector3d& normal);

}  // namespace potshadow::internal

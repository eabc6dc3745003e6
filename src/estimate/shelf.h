// SPDX-License-Identifier: MIT
// How far the vessel's shelf is below the eye, from one reference or known size.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>

#include "estimate/flat.h"
#include "estimate/input.h"
#include "estimate/sketch.h"
#include "estimate/state.h"

// Internal to `estimate`. All is in the camera frame, with a given "up"; `towards` points level
// from the eye to the axis, `inward` level and square to the pane, into the case. What hangs on the
// shelf's own plane is found for each millimetre of the eye's height above it.
namespace potshadow::internal {

// A photograph's lens, and how far above the shelf the vessel comes into sight.
struct ShelfSight {
  Lens<double> lens{};
  double hidden_mm = 0.0;
};

// How far the pane may be turned against the sight line.
inline constexpr double kMostPaneTurnRad = 0.7;

// Returns the pane's normal into the case: square to where shelf and pane meet, if that line is
// marked and not absurd, else along `towards`.
Eigen::Vector3d pane_inward(const Lens<double>& lens, const FlatReference& seat,
                            const Eigen::Vector3d& up, const Eigen::Vector3d& towards);

// Returns how deep in plan the shelf meets the pane, for each millimetre of the eye's height above
// it. Requires the marked line where they meet.
double seam_reach(const Lens<double>& lens, const FlatReference& seat, const Eigen::Vector3d& up,
                  const Eigen::Vector3d& inward);

// Returns the shelf from how deep in plan the pane is; 0 where nothing ties the pane to it.
double shelf_from_pane(const ShelfSight& sight, const FlatReference& seat, const SeenVessel& seen,
                       const Eigen::Vector3d& up, const Eigen::Vector3d& inward, double depth_mm);

// Returns the shelf from a length; 0 or less where it cannot be.
double shelf_from_length(const ShelfSight& sight, const Flat& flat, const SeenVessel& seen,
                         const Eigen::Vector3d& up);

// The height of the eye for which a vessel is sketched where any will do.
inline constexpr double kAnyEyeHeightMm = 1000.0;

// Returns the shelf from a known size of a body that stands on it, by a sketch of it; nothing where
// there is no such size.
std::optional<double> shelf_from_size(const SightRays& rays, bool round_base,
                                      const Eigen::Vector3d& up, const KnownSize& size,
                                      std::size_t control_count);

}  // namespace potshadow::internal

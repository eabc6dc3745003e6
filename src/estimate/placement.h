// SPDX-License-Identifier: MIT
// A reference put in its place of a vessel that is sketched already: the entries of its block.
#pragma once

#include <Eigen/Core>
#include <array>

#include "estimate/flat.h"
#include "estimate/input.h"
#include "estimate/state.h"
#include "geometry/plane_pose.h"

// Internal to `estimate`. Each block holds what state.h says of references, seams and their places,
// the two lengths of a reference that is known by its pose left at 0.
namespace potshadow::internal {

// The camera against the vessel.
struct SketchedCamera {
  Lens<double> lens{};
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  // vessel's axes in the camera frame
  Eigen::Vector3d eye = Eigen::Vector3d::Zero();       // in the vessel frame
};

// Returns the block of a reference with the pose of its origin. One on the glass turns the view's
// pane to lie in it.
std::array<double, kReferenceSize> placed(const SketchedCamera& camera,
                                          const FlatReference& reference, const PlanePose& pose,
                                          View& view);

// Returns the block of a length, whose pose its place alone must say; likewise.
std::array<double, kReferenceSize> placed_length(const SketchedCamera& camera, const Flat& flat,
                                                 View& view);

// Returns the block of the line where shelf and pane meet, with the block of its reference.
std::array<double, kSeamSize> placed_seam(const SketchedCamera& camera, const Seam& seam,
                                          const std::array<double, kReferenceSize>& reference,
                                          const View& view);

}  // namespace potshadow::internal

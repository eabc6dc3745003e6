// SPDX-License-Identifier: MIT
// The poses that a flat reference or a disc can have by its own marks.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "estimate/flat.h"
#include "estimate/input.h"
#include "estimate/state.h"
#include "geometry/plane_pose.h"

// Internal to `estimate`. A flat figure seen once has up to two poses that fit alike. They are
// those of its first point for a flat reference, of its centre for a disc, whose face has no "up"
// of its own: that of the picture is taken.
namespace potshadow::internal {

// Returns those of a rectangle, or of the block at the beginning of a grid; none of a length.
std::vector<PlanePose> flat_poses(const Lens<double>& lens, const Flat& flat);

// Returns the two of a disc, or none where its edge is no ellipse.
std::vector<PlanePose> disc_poses(const Lens<double>& lens, const DiscReference& disc);

// Returns the pose of a flat reference's origin, from that of its first point.
PlanePose first_to_origin(const Flat& flat, PlanePose pose);

// Returns a disc's pose turned in its own face so that its "up" is the shelf's, with the origin
// where it touches the shelf if it stands or leans.
PlanePose seated(const DiscReference& disc, PlanePose pose, const Eigen::Vector3d& up);

// Returns of a disc's poses the one that goes best with this "up". Requires one at least.
const PlanePose& likelier(const DiscReference& disc, const std::vector<PlanePose>& poses,
                          const Eigen::Vector3d& up);

}  // namespace potshadow::internal

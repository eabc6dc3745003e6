// SPDX-License-Identifier: MIT
// The curves by which a vessel is drawn, cut where they begin or end to be hidden.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "estimate/matching.h"

// Internal to `estimate`. Contacts along both sides, and the circles of rim and foot; pixels of the
// photograph that the sight is of.
namespace potshadow::internal {

// A place of one of the vessel's curves, with its picture.
struct CurvePoint {
  Match match;  // without its normal
  Eigen::Vector2d image = Eigen::Vector2d::Zero();
};

// A run of such places; hidden where every sight line enters the vessel before it gets there.
struct CurveRun {
  std::vector<CurvePoint> points;  // two or more
  bool hidden = false;
};

// The curves by which the vessel is drawn. They are cut where hiding begins or ends, and the
// outline also where no sight line touches the vessel.
struct VesselCurves {
  std::vector<CurveRun> left;   // contact points, base first
  std::vector<CurveRun> right;  // likewise
  std::vector<CurveRun> rim;    // the front from left to right, then the back from right to left
  std::vector<CurveRun> foot;   // likewise
};

// Returns the curves, at `outline_steps` even steps along the profile and `circle_steps` round each
// circle, and at every cut. Requires a body in front of the camera.
VesselCurves vessel_curves(const Sight& sight, const Body& body, std::size_t outline_steps,
                           std::size_t circle_steps);

}  // namespace potshadow::internal

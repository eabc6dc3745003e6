// SPDX-License-Identifier: MIT
// The residuals of the joint estimate, each over its standard deviation.
#pragma once

#include <ceres/cost_function.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <memory>
#include <vector>

#include "estimate/disc.h"
#include "estimate/flat.h"
#include "estimate/known_size.h"
#include "estimate/matching.h"
#include "estimate/state.h"

// Internal to `estimate`. Marks on curves are compared with the point of the curve they are matched
// with, across it; what they are matched with is held while derivatives are taken and found anew at
// every point the solver tries. The solver owns what these functions return.
namespace potshadow::internal {

// What the marks of a neighbour belong to.
struct NeighbourMatches {
  double turn_rad = 0.0;  // see neighbour.h
  std::vector<Match> marks;
};

// What the marks of one photograph belong to.
struct ViewMatches {
  std::vector<Match> marks;
  std::vector<EdgeMatch> edges;  // of all discs, one disc after the other
  std::vector<NeighbourMatches> neighbours;
};

struct Matched {
  std::vector<ViewMatches> views;
};
using SharedMatched = std::shared_ptr<const Matched>;

using Cost = std::unique_ptr<ceres::CostFunction>;

// A mark on a flat reference, both coordinates. Parameters: pose, lens, pane, tilt, reference.
Cost point_cost(const Setting& setting, const Flat& flat, const FlatPoint& point, double sd_px);

// A mark on the edge of a disc, across the edge. Parameters as for a point.
Cost edge_cost(const Setting& setting, const DiscReference& disc, PhotoPoint mark, double sd_px,
               SharedMatched matched, std::size_t view, std::size_t index);

// The two marks of a seam. Parameters: pose, lens, pane, tilt, reference, seam.
Cost seam_cost(const Setting& setting, const Seam& seam, double sd_px);

// A mark on the outline that the solver takes the height of, at its present match.
struct SeenHeight {
  PhotoPoint mark;
  double depth_mm = 0.0;  // y of its surface point in the vessel's frame
  double bent_mm =
      0.0;  // how much higher that point is than where a straight sight line gets there
};

// How high a mark on the outline is, against a bound. Where on the profile it lies changes with the
// camera's place, so the height is that of its sight line at the depth of the contact, which hardly
// changes. Parameters: pose, lens.
Cost seen_height_cost(const Setting& setting, std::shared_ptr<const SeenHeight> seen,
                      double mean_mm, double sd_mm);

// Returns the height at which a mark's sight line is as deep as `seen` says, without `bent_mm`.
double sight_height_mm(const Setting& setting, const View& view, const SeenHeight& seen);

// (x_entry - mean) / sd of a block.
Cost entry_prior(int block_size, int entry, double mean, double sd);

// How one photograph's lens follows the one it shares: (lens[entry] + shift - shared) / sd.
// Parameters: lens, shared lens.
Cost shared_lens_cost(int entry, int shared_entry, double shift, double sd);

// The smoothness prior on a profile: second differences between knots are normal with mean zero;
// `sd` is their common scale, as a part of picture_scale_mm, and `relax[i]` how many times larger
// knot i may be. As the curve is seen in the picture the prior says nothing about how big the
// vessel is; in millimetres it would prefer a small one.
struct Smoothness {
  double sd = 1.0;
  std::vector<double> relax{};  // one for each knot, count = controls - 2; none for all 1
};

// Returns how many millimetres at the vessel one unit of the picture is, the unit being the focal
// length at the start.
inline double picture_scale_mm(const double* pose, const double* lens) {
  return pose[kDistanceMm] * std::exp(-lens[kLogFocal]);
}

// Second differences of the profile at its knots. Parameters: pose, lens, both blocks of the
// controls.
Cost smoothness_cost(const Smoothness& smoothness, std::size_t control_count);

// Returns the second differences of the controls at the knots, r and z in turn, 2 (count - 2) long.
Eigen::VectorXd second_differences(const std::vector<double>& controls);

}  // namespace potshadow::internal

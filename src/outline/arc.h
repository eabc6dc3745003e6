// SPDX-License-Identifier: MIT
// The elliptic arcs of rim and foot in a vessel's contour.
#pragma once

#include <cstddef>
#include <opencv2/core/types.hpp>
#include <optional>
#include <vector>

// Model: a circle square to the axis is seen as an ellipse whose longer axis lies nearly across the
// vessel's: with u across and v along the axis,
//   ((u - u0) / a)^2 + ((v - v0 - skew (u - u0)) / b)^2 = 1.
// The back of the rim, or the front of the foot, is the longest run of the contour about its
// highest, or lowest, place that lies on one such ellipse. Seen level, b is near 0 and the run is
// short. Frames: (u, v) as in contour.h, pixels.
namespace potshadow {

struct Arc {
  double u0 = 0.0;
  double v0 = 0.0;
  double a = 0.0;
  double b = 0.0;
  double skew = 0.0;

  // Signed distance of a place, outside positive; to first order near the ellipse.
  double distance(cv::Point2d uv) const;
  // The place at an angle: 0 to the right, a quarter turn to smaller v.
  cv::Point2d place(double angle_rad) const;
};

// A run of a contour's points that lie on an arc: from index `first` to `last`, both in it.
struct ArcRun {
  Arc arc;
  std::size_t first = 0;
  std::size_t last = 0;
  double rms_px = 0.0;
};

// Looks for the run about index `middle` of `points` (an open list). `upwards` is true where the
// run bulges to smaller v (a rim's back) and false for a foot's front. `within_px` is how near the
// points must lie. Returns nothing where no run of at least a tenth of the width is found.
std::optional<ArcRun> longest_arc(const std::vector<cv::Point2d>& points, std::size_t middle,
                                  bool upwards, double within_px);

// Improves the arc by least squares through the points, far ones counting less (Huber). Keeps the
// arc where the points do not determine one.
Arc refined_arc(const Arc& arc, const std::vector<cv::Point2d>& points, double within_px);

// Returns the standard deviation across the arc of its place at each angle, where the points each
// lie on it within `sd_px`.
std::vector<double> arc_deviations(const Arc& arc, const std::vector<cv::Point2d>& points,
                                   double sd_px, const std::vector<double>& angles_rad);

// Returns how much of a closed contour, in pixels of any frame, lies on one ellipse flat enough to
// be a rim's, 0 to 1: a wall or a foot that is seen leaves it. 0 for a nearly round one, which may
// be a ball's.
double part_on_rim(const std::vector<cv::Point2d>& contour);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Curves as runs of straight pieces that keep within a tolerance.
#pragma once

#include <vector>

#include "core/units.h"
#include "patterns/pattern.h"
#include "vessel/profile.h"

namespace potshadow {

// Returns the profile as the fewest points, base first, that a walk along it needs so that no part
// of it lies farther than `tolerance_mm` from the straight pieces. Requires tolerance > 0. Source:
// Douglas & Peucker, "Algorithms for the reduction of the number of points ...", 1973.
std::vector<ProfilePoint> traced(const Profile& profile, double tolerance_mm);

// Returns the same of a run of points, its ends kept.
std::vector<ProfilePoint> simplified(const std::vector<ProfilePoint>& points, double tolerance_mm);

// A part of a circle, in degrees from the x axis; anticlockwise where `to` is the greater.
struct ArcRange {
  double from_deg = 0.0;
  double to_deg = 360.0;
};

// Returns the points of an arc round (0, 0), ends included.
std::vector<PatternPoint> arc_points(double radius_mm, const ArcRange& range);

// Returns a closed circle. `line` says what it is.
PatternPath circle_path(PatternPoint centre, double radius_mm, PatternLine line);

// Returns how many straight pieces a whole circle needs so that it keeps within the tolerance.
int pieces_of_circle(double radius_mm, double tolerance_mm);

}  // namespace potshadow

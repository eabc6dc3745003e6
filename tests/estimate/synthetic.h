// SPDX-License-Identifier: MIT
// Exact marks of an analytic vessel, by a projection written apart from the program's own.
#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "core/result.h"
#include "core/units.h"
#include "estimate/input.h"

namespace potshadow::testing {

// A pinhole behind a lens (as in geometry/camera.h, k2 = 0) that looks at a point on the axis; no
// pane.
struct SyntheticCamera {
  double focal_35mm = 40.0;
  double distance_mm = 800.0;  // from the eye to the axis, level
  double eye_height_mm = 320.0;
  double look_at_mm = 90.0;  // height of the point in the middle of the picture
  int width_px = 2016;
  int height_px = 1512;
  double k1 = 0.0;
  double centre_x_px = 0.0;  // of the principal point, from the middle of the picture
  double centre_y_px = 0.0;
};

// Returns a camera whose bending and middle are drawn as the estimate's priors state them: k1 with
// 0.02, the principal point with 0.5 % of the width.
SyntheticCamera camera_from_priors(std::mt19937_64& random,
                                   std::normal_distribution<double>& normal);

// Returns the marks that the camera sees of the vessel turned from `profile` (base first, dense),
// and of a card of 120 x 80 mm lying beside it: `rim` round the rim, `base` along the front of the
// foot, and one outline mark a side for every `stride`-th profile point whose sight line is not
// stopped by the vessel itself.
EstimateInput synthetic_input(const std::vector<ProfilePoint>& profile,
                              const SyntheticCamera& camera, std::size_t rim, std::size_t base,
                              std::size_t stride);

// The shelf against the vessel's foot: a turn about x and about y.
struct SyntheticShelf {
  double turn_x_rad = 0.0;
  double turn_y_rad = 0.0;
};

// Returns a disc left of a vessel of at most 120 mm radius, with exact marks round its edge:
// lying, standing (turned by 0.5 rad), leaning back by 0.6 rad (turned by 0.3), or on a pane 200
// mm in front of the axis.
DiscReference synthetic_disc(const SyntheticCamera& camera, const SyntheticShelf& shelf,
                             Place place, double diameter_mm, std::size_t marks);

// Returns the pixel at which the camera sees a point.
PhotoPoint synthetic_pixel(const SyntheticCamera& camera, const VesselPoint& point);

// Returns where the sight line of a pixel meets the plane through the axis square to the view, y =
// 0. Requires k1 = 0.
VesselPoint in_axis_plane(const SyntheticCamera& camera, const PhotoPoint& pixel);

// Returns the exact marks of a vessel whose axis stands at (x, y) on the shelf, as synthetic_input
// makes them for one at the origin.
Marks synthetic_marks(const std::vector<ProfilePoint>& profile, const SyntheticCamera& camera,
                      double x_mm, double y_mm, std::size_t rim, std::size_t base,
                      std::size_t stride);

// Returns the input with `sd_px` of noise on every mark, corner and edge point, and the stated
// focal length off by as much as it says.
EstimateInput with_noise(EstimateInput input, double sd_px, std::uint64_t seed);

// Expects that the input has no answer, for that reason and in words that hold `words`, with
// advice.
void expect_problem(const EstimateInput& input, Code code, const std::string& words);

}  // namespace potshadow::testing

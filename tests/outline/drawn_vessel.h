// SPDX-License-Identifier: MIT
// Pictures with analytic edges for the tests of tracing: discs and plain vessels of known shape.
#pragma once

#include <cstdint>
#include <functional>
#include <opencv2/core.hpp>

#include "photo/decode.h"

// A picture is light: each pixel is the mean over its square, blurred by a Gaussian, then given
// noise and the tone curve of IEC 61966-2-1. Pixels: (0, 0) at the centre of the top-left one.
namespace potshadow::testing {

struct Ink {
  double blue = 0.0;  // light, 0 to 1
  double green = 0.0;
  double red = 0.0;
};

struct DrawnPicture {
  int width = 600;
  int height = 500;
  // Signed distance to the vessel's edge in pixels, negative inside; exact near the edge.
  std::function<double(double x, double y)> distance;
  // Colours of a place of the vessel and of its surroundings.
  std::function<Ink(double x, double y)> vessel;
  std::function<Ink(double x, double y)> surroundings;
  double blur_px = 1.0;
  double noise = 2.0;  // deviation of each channel, grey levels
  std::uint64_t seed = 1;
};

inline constexpr Ink kClay{0.10, 0.16, 0.32};
inline constexpr Ink kWall{0.40, 0.42, 0.40};

Picture drawn(const DrawnPicture& wanted);
Picture picture_of(cv::Mat bgr);

// A jar about an upright axis with a belly, seen from above: rim and foot are ellipses, and the
// sides run from one's widest place to the other's.
struct Jar {
  double axis_x = 300.0;
  double rim_y = 110.0;
  double foot_y = 400.0;
  double rim_half = 90.0;
  double foot_half = 60.0;
  double ratio = 0.25;  // of the ellipses: height to width

  double half_at(double y) const;  // half width between rim and foot
  double distance(double x, double y) const;
  // Distances from the whole of each edge, first order.
  double rim_distance(double x, double y) const;
  double foot_distance(double x, double y) const;
  double side_distance(double x, double y) const;
};

}  // namespace potshadow::testing

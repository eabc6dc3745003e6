// SPDX-License-Identifier: MIT
// The likeliest connected run of edges along a rough line.
#pragma once

#include <opencv2/core/mat.hpp>
#include <opencv2/core/types.hpp>
#include <vector>

#include "outline/vessel_mask.h"

// Model: across every place of the line lies a profile of colours. An edge at t is likely where the
// colours change steeply at t, and, for a line that parts the vessel from its surroundings, where
// all that is inward of t looks like the vessel nearby and all that is outward like the
// surroundings nearby. Neighbours jump little (dynamic programming: the sum of costs is least). How
// much more the best run through any other place costs is the margin: small where two edges are
// alike. Frames: pixels of the picture; offsets along `outward`.
namespace potshadow {

struct SearchLine {
  std::vector<cv::Point2d> at;       // some pixels apart
  std::vector<cv::Point2d> outward;  // unit length, away from the vessel
  std::vector<double> reach_px;      // searched to both sides
  // Standard deviation of where the edge is expected about offset 0; empty where nothing is.
  std::vector<double> expected_px{};
  int along_px = 2;  // colours are averaged over so many pixels to both sides along the edge
  bool closed = false;
  bool parts = true;       // the vessel from its surroundings; otherwise just an edge
  bool outermost = false;  // of edges about as clear the one farthest out, as of a lip's two
};

struct PathPlace {
  double off_px = 0.0;
  double margin = 0.0;  // how much more any edge elsewhere would cost; a unit is weak, 3 is clear
  // How well the colours nearby tell inside from outside: squared distance of their means over the
  // sum of their variances; nothing where the line parts nothing.
  double apart = 0.0;
  double contrast = 0.0;  // grey levels across the edge, of the channels together
};

// Returns one place for each of the line's. `noise` is the deviation of one pixel's channel.
// Requires equally long lists.
std::vector<PathPlace> likely_path(const cv::Mat& bgr, const VesselMask& mask,
                                   const SearchLine& line, double noise);

// Returns the deviation of one pixel's channel by chance, from the picture's finest differences.
double pixel_noise(const cv::Mat& bgr);

}  // namespace potshadow

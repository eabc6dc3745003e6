// SPDX-License-Identifier: MIT
// A traced outline as the project file holds it.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "core/units.h"
#include "project/kept_object.h"

// In pixels of the upright photograph, as marks are.
namespace potshadow {

// A mark that the program found, with its standard uncertainty across the edge.
struct TracedPoint {
  PhotoPoint at;
  double sd_px = 0.2;
  friend bool operator==(const TracedPoint&, const TracedPoint&) = default;
};

struct ProjectTrace {
  // "box_px": two opposite corners of the rough box round the vessel.
  std::array<PhotoPoint, 2> box{};
  // "strokes" that say what is vessel and what is not, as the potter drew them.
  struct Stroke {
    bool vessel = true;
    double width_px = 0.0;
    std::vector<PhotoPoint> points;  // "points_px"
    friend bool operator==(const Stroke&, const Stroke&) = default;
  };
  std::vector<Stroke> strokes;
  // "rim_px" and so on: [x, y, standard uncertainty].
  std::vector<TracedPoint> rim;
  std::vector<TracedPoint> base;
  std::vector<TracedPoint> left;
  std::vector<TracedPoint> right;
  // Stretches that were left out, and why; shown, never measured.
  struct Doubtful {
    std::string edge;  // "rim", "base", "left" or "right"
    std::string why;
    std::vector<PhotoPoint> points;  // "points_px"
    friend bool operator==(const Doubtful&, const Doubtful&) = default;
  };
  std::vector<Doubtful> doubtful;
  KeptObject kept;
  friend bool operator==(const ProjectTrace&, const ProjectTrace&) = default;
};

}  // namespace potshadow

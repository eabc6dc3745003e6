// SPDX-License-Identifier: MIT
// The fitted vessel as it lies on the photograph: lines in pixels, ready to be drawn.
#pragma once

#include <array>
#include <vector>

#include "core/units.h"
#include "estimate/input.h"
#include "estimate/size_name.h"

// All points are in pixels of the upright photograph, through the fitted camera, lens and pane. The
// band round the outline is where the model's own outline lies with 95 % probability: the marks'
// precision and all that is not known about camera and reference, carried to the picture. It says
// how well the model is tied to the photograph, not how well the millimetres are known.
namespace potshadow {

// A run of points that are all seen, or all hidden by the vessel itself.
struct OverlayLine {
  std::vector<PhotoPoint> points;
  std::vector<double> half_px;  // of the band across a circle, at each point; empty for the axis
  bool hidden = false;
};

// A run of the outline with its band; the three lists are equally long.
struct OutlineBand {
  std::vector<PhotoPoint> middle;
  std::vector<PhotoPoint> inner;  // towards the axis
  std::vector<PhotoPoint> outer;
  std::vector<double> height_mm;  // on the vessel, of each point
  bool hidden = false;
};

// Where a size can be drawn as a dimension line: its two ends on the photograph. Heights run up
// beside the vessel, diameters across it.
struct DimensionLine {
  SizeName name = SizeName::kHeight;
  PhotoPoint from;
  PhotoPoint to;
};

// A mark, and the nearest place of the curve it belongs to.
struct Whisker {
  MarkPlace mark;
  PhotoPoint marked;
  PhotoPoint fitted;
  double off_sd = 0.0;    // distance in standard deviations of the mark
  bool doubtful = false;  // farther than chance allows: above 3 standard deviations
};

// A reference as solved: its outline where the model has it, and its edges with their lengths.
struct ReferenceOverlay {
  std::size_t reference = 0;        // its `number` in the input
  std::vector<PhotoPoint> outline;  // closed: the last joins the first
  struct Edge {
    PhotoPoint from;
    PhotoPoint to;
    double length_mm = 0.0;
  };
  std::vector<Edge> edges;  // width and height of a rectangle, the diameter of a disc
};

struct Overlay {
  std::vector<OutlineBand> outline;  // left and right runs, base first
  std::vector<OverlayLine> rim;      // front and back halves
  std::vector<OverlayLine> foot;     // likewise; empty with a round base
  OverlayLine axis;                  // from the base's centre to the rim's
  std::vector<DimensionLine> dimensions;
  std::vector<ReferenceOverlay> references;
  std::vector<Whisker> whiskers;  // one a mark, in the order rim, base, left, right, references
};

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Where the flat picture's pixels lie in a photograph, at every few pixels.
#pragma once

#include <opencv2/core/mat.hpp>
#include <vector>

#include "unroll/unroll.h"

// Internal to `unroll`. Node (i, j) of a grid is pixel (i step_px, j step_px) of the flat picture,
// whose middle lies half a pixel from its corner; the last nodes lie on or past its edge.
namespace potshadow::internal {

struct FlatGrid {
  FlatGrid(const Development& flat, double px_per_mm);

  // Returns the flat place of a pixel's middle.
  FlatPoint place(int x_px, int y_px) const;

  double left_mm = 0.0;  // of the picture's top left corner
  double top_mm = 0.0;
  double px_per_mm = 1.0;
  int step_px = 1;  // 8 at most, and about a millimetre
  int width_px = 0;
  int height_px = 0;
  cv::Mat inside;  // CV_8U, a node each: 255 where the development is
};

// All CV_32F, a node each.
struct ViewGrid {
  cv::Mat x;  // pixel of the photograph
  cv::Mat y;
  cv::Mat weight;  // 0 blank .. 1 in full
  cv::Mat shrink;  // pixels of the photograph to one of the flat picture, where they are densest
  cv::Mat least;   // likewise where they are widest apart
};

ViewGrid view_grid(const PaintedFace& face, const Development& flat, const FlatGrid& grid,
                   const UnrollPhoto& photo, const UnrollChoices& choices);

// Fills `shrink` and `least` from `x` and `y`.
void fill_scales(int step_px, ViewGrid& grid);

// Returns the photograph's colours at the nodes, CV_8UC3, from its coarsest halving up to a
// quarter.
cv::Mat colours_at(const ViewGrid& grid, const std::vector<cv::Mat>& levels);

struct Seen {
  double part = 0.0;
  double finest_mm = 0.0;
  double coarsest_mm = 0.0;
};

// Returns how much of the development is seen, and how finely.
Seen how_seen(const FlatGrid& grid, const std::vector<const ViewGrid*>& views);

}  // namespace potshadow::internal

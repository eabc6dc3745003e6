// SPDX-License-Identifier: MIT
// Pixels of photographs, where a grid says they lie in another picture.
#pragma once

#include <array>
#include <opencv2/core/mat.hpp>
#include <vector>

#include "unroll/view_grid.h"

// Internal to `unroll`; see unroll.h for how photographs are read and blended.
namespace potshadow::internal {

struct Source {
  ViewGrid grid;
  std::vector<cv::Mat> levels;  // the photograph and its halvings
  std::array<float, 3> gain{1.0F, 1.0F, 1.0F};
};

// Returns the photograph with as many halvings as the grid asks for.
Source source_of(ViewGrid grid, const cv::Mat& bgr);

// Makes each photograph as bright as those before it, from the places that both show in full.
void match_brightness(std::vector<Source>& sources);

// Returns the picture, CV_8UC4, with a node of the grids at every `step_px` pixels.
cv::Mat painted(const std::vector<Source>& sources, int step_px, const cv::Size& size);

}  // namespace potshadow::internal

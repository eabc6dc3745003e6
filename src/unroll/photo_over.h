// SPDX-License-Identifier: MIT
// One pot's photograph as the camera of another's photograph would have taken it.
#pragma once

#include <opencv2/core/mat.hpp>

#include "unroll/unroll.h"

// The pots stand on one place, axis on axis, each with the side in front that its photograph shows.
// For each pixel of the other camera the sight line's first meeting with the wall is looked up in
// this pot's own photograph. What that does not show stays blank. Only the outer wall is carried
// over.
namespace potshadow {

// Returns the picture, CV_8UC4 with alpha 0 where nothing is shown, of `part` of the other camera's
// picture. `factor` makes the size shown of the pot's own, as measured.
cv::Mat seen_as(const SolvedView& other, const cv::Rect& part, const PaintedFace& face,
                double factor, const UnrollPhoto& photo);

}  // namespace potshadow

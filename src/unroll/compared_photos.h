// SPDX-License-Identifier: MIT
// Photographs of two pots beside each other and over each other.
#pragma once

#include <optional>
#include <string>

#include "estimate/answer.h"
#include "patterns/pattern.h"
#include "unroll/unroll.h"

namespace potshadow {

// A pot, as one photograph shows it.
struct ComparedPhoto {
  std::string title;
  UnrollPhoto photo;
  Overlay overlay;  // the fitted outline, in the photograph's pixels
  PaintedFace face;
  double height_mm = 0.0;
  double factor = 1.0;  // from its own size to the one that both are compared at
};

// Returns the first photograph of an answer; `bgr` are its pixels, turned.
ComparedPhoto compared_photo(const std::string& title, const cv::Mat& bgr, const Answer& answer,
                             double factor);

// A photograph about its pot, with the fitted outline drawn in.
struct OutlinedPhoto {
  PatternPixels pixels;
  double width_mm = 0.0;  // as far off as the pot's axis, at the size that both are compared at
  double height_mm = 0.0;
};

// Returns it with no more than `most_px_per_mm`.
OutlinedPhoto outlined_photo(const ComparedPhoto& side, double most_px_per_mm);

// Returns both photographs about their pots side by side, with the fitted outlines, at one scale:
// as far off as their axes both pots are shown so many times smaller. 165 mm wide.
Pattern photos_side_by_side(const ComparedPhoto& original, const ComparedPhoto& replica);

// The original's photograph about its pot, and the replica as the same camera would have seen it.
struct PhotoLayers {
  PatternPixels original;
  PatternPixels replica;   // of the same size; clear where it shows nothing
  double axis_part = 0.5;  // where the original's axis is, a part of the width
};

// Returns both, no side longer than `most_px`.
PhotoLayers photo_layers(const ComparedPhoto& original, const ComparedPhoto& replica, int most_px);

// How one lies over the other.
struct PhotoOver {
  bool wipe = false;
  // How much of the replica shows, 0 to 1, half of it where absent; with `wipe` where it begins, a
  // part of the width, at the original's axis where absent.
  std::optional<double> part{};
};

// Returns that as a PNG, at the full size of the photograph.
std::string photo_over_png(const ComparedPhoto& original, const ComparedPhoto& replica,
                           const PhotoOver& over);

}  // namespace potshadow

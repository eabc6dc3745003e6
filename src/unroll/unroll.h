// SPDX-License-Identifier: MIT
// The painted face, taken from the photographs and laid flat.
#pragma once

#include <opencv2/core/mat.hpp>
#include <vector>

#include "core/result.h"
#include "estimate/solved_view.h"
#include "unroll/development.h"
#include "unroll/surface.h"

// Each place of the flat picture is a place of the face, and each place of the face has a pixel in
// each photograph that sees it (solved_view.h). Places that the vessel hides, that are turned away
// or outside the photograph stay blank; those seen at a slant fade, since their pixels are spread
// over more of the wall. Where several photographs see a place the squarer view counts more, and
// their brightness is made alike by what they share. Photographs are read between their pixels
// (bilinear), and where the flat picture is coarser from halvings of them, so that nothing flickers
// (L. Williams, "Pyramidal parametrics", SIGGRAPH 1983, from memory).
//
// The way from flat picture to photograph is computed about every millimetre and interpolated: on a
// wall with a radius of 100 mm that is off by some micrometres. Things that stand before the vessel
// are not known here and come along.
namespace potshadow {

struct UnrollPhoto {
  cv::Mat bgr;  // CV_8UC3, turned as its marks are
  SolvedView view;
};

struct UnrollChoices {
  double px_per_mm = 10.0;
  double full_until_deg = 60.0;  // turned so far from the eye, at most, it is shown in full
  double blank_from_deg = 78.0;  // and so far it is blank
};

struct Unrolled {
  cv::Mat bgra;          // CV_8UC4; alpha 0 where nothing is seen
  double left_mm = 0.0;  // of the picture's corner in the development's frame
  double top_mm = 0.0;
  double px_per_mm = 10.0;
  double seen_part = 0.0;    // of the development, faded parts included
  double finest_mm = 0.0;    // what one pixel of the photographs covers on the pot to make, where
  double coarsest_mm = 0.0;  // it is smallest, and at the slant where fading begins
};

inline constexpr double kMostUnrolledPixels = 200e6;

// Returns the development cut down to as far round, alike to both sides, as any photograph shows
// it; unchanged where none does.
Development seen_of(const PaintedFace& face, const Development& flat,
                    const std::vector<UnrollPhoto>& photos, const UnrollChoices& choices);

// Returns the flat picture. Fails with kCannotBeAnswered where no photograph sees any of it, and
// with kBadValue where it would have more than kMostUnrolledPixels or choices are out of reason.
Result<Unrolled> unroll(const PaintedFace& face, const Development& flat,
                        const std::vector<UnrollPhoto>& photos, const UnrollChoices& choices);

}  // namespace potshadow

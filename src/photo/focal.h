// SPDX-License-Identifier: MIT
// Focal length in pixels from a 35 mm equivalent, by the diagonal of the frame.
#pragma once

#include "core/measured.h"
#include "core/result.h"
#include "core/units.h"

// Convention: a lens is equivalent to f mm on 36 x 24 mm film when both see the same angle across
// the DIAGONAL (43.2666 mm). So f_px = f35 * sqrt(W^2 + H^2) / 43.2666 with W, H in pixels.
// Source: CIPA DCG-001.
namespace potshadow {

inline constexpr double kFilmDiagonalMm = 43.266615305567875;  // sqrt(36^2 + 24^2)

// Returns the focal length in pixels for a picture of width x height pixels. Requires all > 0.
double focal_px_from_35mm(double focal_35mm, int width_px, int height_px);

// Returns the inverse of the above.
double focal_35mm_from_px(double focal_px, int width_px, int height_px);

}  // namespace potshadow

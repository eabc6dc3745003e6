// SPDX-License-Identifier: MIT
// Focal length, middle and bending of a lens from pictures of a flat chessboard.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "core/measured.h"
#include "core/result.h"
#include "core/units.h"
#include "geometry/camera.h"

// Model: every picture shows the same flat board, its inner corners `square_mm` apart; camera.h's
// pinhole with k1 and k2 and square pixels takes them to pixels. Focal length, principal point, k1,
// k2 and a pose for every picture are chosen so that the sum of squared misfits is least.
// Source: Zhang, "A flexible new technique for camera calibration", IEEE PAMI 22(11), 2000, by
// OpenCV's calibrateCamera.
//
// Uncertainty: two standard deviations are found, and the larger one stands. One is that of the
// fit, which takes the misfits of all corners for independent. The other comes from leaving out one
// picture at a time (the jackknife: Efron & Stein, Annals of Statistics 9(3), 1981), so that what
// is common to a picture (a board that is not flat, blur, the shutter) is not taken for chance.
// With few pictures both are little sure of themselves, so intervals use Student's factor for the
// number of pictures less one.
//
// Pixels: (0, 0) at the centre of the top-left one.
namespace potshadow {

// Inner corners: where four squares meet.
struct BoardShape {
  int columns = 9;
  int rows = 6;
  double square_mm = 0.0;
  std::size_t corners() const {
    return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
  }
};

// The corners of one picture's board, row by row, each row `columns` long.
using BoardCorners = std::vector<PhotoPoint>;

// Fewer pictures leave the uncertainty unknown.
inline constexpr std::size_t kFewestBoardPictures = 4;

// Square on, a larger focal length and a larger distance look the same: above this relative
// standard deviation the focal length counts as not found. EXIF alone gives 2 %.
inline constexpr double kMostFocalSdPart = 0.02;

struct LensCalibration {
  int width_px = 0;
  int height_px = 0;
  Measured focal_px;
  Measured cx_px;
  Measured cy_px;
  Measured k1;
  Measured k2;
  double rms_px = 0.0;                    // misfit of a corner, both directions together
  std::vector<double> picture_rms_px;     // the same for each picture, in their order
  std::vector<double> board_distance_mm;  // from the camera to the board's middle, likewise
  Lens<double> lens() const {
    return {focal_px.value, cx_px.value, cy_px.value, k1.value, k2.value};
  }
};

// Returns the calibration from the corners found in pictures of width_px x height_px. Requires
// a shape of at least 3 x 3 corners and square_mm > 0, and as many corners in every picture as the
// shape has. Fails with kTooFewMarks (fewer than kFewestBoardPictures), kCannotBeAnswered (the
// pictures do not fix the focal length: the board always seen at nearly the same slant or square
// on), kBadMarks (nothing sensible fits the corners). Slow: a second for 20 pictures.
Result<LensCalibration> calibrate_lens(const std::vector<BoardCorners>& pictures,
                                       const BoardShape& shape, int width_px, int height_px);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The inner corners of a printed chessboard in a picture, to a fraction of a pixel.
#pragma once

#include <vector>

#include "core/result.h"
#include "core/units.h"
#include "photo/decode.h"

// Model: a chessboard is found in a picture made small enough to search quickly. Every corner is
// then moved, in the whole picture, to where the edges around it meet: first to where all
// brightness gradients are square to the line to the corner, then to where two straight, equally
// blurred edges cross that fit the brightness around it in the least squares, with light that
// changes evenly across. The noise of the pixels is then all that is left: a hundredth of a pixel
// where squares are 30 px wide.
// Source: Duda & Frese, "Accurate detection and localization of checkerboard corners for
// calibration", BMVC 2018 (finding); Foerstner & Guelch, ISPRS 1987 (gradients), both by OpenCV;
// Marquardt, SIAM Journal 11(2), 1963 (least squares).
// Pixels: (0, 0) at the centre of the top-left one.
namespace potshadow {

// Returns the corners row by row, columns x rows of them; which end is first is not told, for a
// board looks the same from both. Requires columns, rows >= 3. Fails with kCannotBeAnswered where
// no whole board of that many corners is seen. Slow: up to a second.
Result<std::vector<PhotoPoint>> find_board(const Picture& picture, int columns, int rows);

}  // namespace potshadow

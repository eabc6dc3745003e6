// SPDX-License-Identifier: MIT
// From pictures of the printed board to the camera that took them.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "core/result.h"
#include "geometry/calibration.h"
#include "photo/probe.h"

// What calibrates a camera must have been taken by it at one zoom, one way up and in one size. So
// the pictures that differ in that from most of the others are left out, as are those that cannot
// be read, show no whole board, or are the same as another.
namespace potshadow {

struct LeftOutPicture {
  std::string file;
  std::string why;  // a sentence without the file's name: "it is the same picture as another."
};

// What was seen on all pictures that show the board.
struct BoardPictures {
  std::vector<BoardCorners> corners;
  std::vector<std::string> files;   // of `corners`, in the same order
  std::optional<PhotoFacts> facts;  // of the first that counts
  std::vector<LeftOutPicture> left_out;
  std::size_t given = 0;
};

// Who looks on: is told how many pictures have been dealt with, and may stop the work between two.
struct BoardWatch {
  std::function<void(std::size_t)> dealt_with{};
  std::stop_token stop{};
};

// Returns the corners in the pictures that serve. Requires columns, rows >= 3. Fails with
// kFileMissing for a file that is not there; where none can be read, as probe_photo or decode_photo
// do. After a stop the result may be anything. Slow: up to a second a picture.
Result<BoardPictures> look_for_board(const std::vector<std::string>& files, int columns, int rows,
                                     const BoardWatch& watch = {});

// Returns the camera. Fails with kTooFewMarks where no picture shows the board, and as
// calibrate_lens does. Slow: a second for 20 pictures.
Result<LensCalibration> calibrate_from_board(const BoardPictures& pictures,
                                             const BoardShape& shape);

// Returns which pictures, as indices into `files`, fit far worse than the others: blurred, or the
// board not flat. Requires the calibration of these pictures.
std::vector<std::size_t> misfit_pictures(const LensCalibration& calibration);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A camera measured from pictures of the printed board, in plain words.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "geometry/calibration.h"
#include "outline/board_pictures.h"
#include "project/camera_book.h"

namespace potshadow {

// Returns what was found: "A lens like 26.1 ± 0.3 mm on 35 mm film. The board's corners lie ..."
std::string calibration_sentence(const LensCalibration& found);

// Returns how many pictures served, and which did not and why.
std::vector<Note> calibration_notes(const LensCalibration& found, const BoardPictures& pictures);

// Returns what the book of cameras knows: "Sample phone at 5.4 mm, measured on 2026-11-25 from 12
// pictures: like 26.1 ± 0.4 mm on 35 mm film."
std::string known_camera_words(const CameraProfile& profile);

}  // namespace potshadow

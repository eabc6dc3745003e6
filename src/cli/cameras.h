// SPDX-License-Identifier: MIT
// The user's own calibrated cameras, for the commands that measure.
#pragma once

#include "project/camera_book.h"
#include "project/measure.h"

namespace potshadow {

// Returns probe_photo with the user's book of cameras, read from their folder. Where the book
// cannot be read the photograph is taken as it is, with a doubtful note.
PhotoProbe probe_with_own_cameras(const Project& project);

// Returns that book; an empty one where it cannot be read.
CameraBook own_camera_book();

}  // namespace potshadow

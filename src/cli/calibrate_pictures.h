// SPDX-License-Identifier: MIT
// Calibrates a camera from pictures of the board, and keeps it in the user's book of cameras.
#pragma once

#include <string>

#include "cli/console.h"
#include "cli/options.h"

namespace potshadow {

// Prints what was found and, where asked for, saves it. `date` is today's, as "2026-11-25".
// Pictures without the board, that cannot be read, or that differ from most of the others in size,
// camera, zoom or the way the camera was held, are named and left out.
ExitCode calibrate_pictures(const CalibrateOptions& options, const std::string& date);

}  // namespace potshadow

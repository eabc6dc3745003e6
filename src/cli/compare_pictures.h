// SPDX-License-Identifier: MIT
// 'potshadow compare' with photographs, in the program that reads pixels.
#pragma once

#include <chrono>

#include "cli/compare_options.h"
#include "cli/console.h"

namespace potshadow {

// Compares as compare_and_write does; its sheet shows both photographs at one scale, and one of
// them is laid over the other where that was asked for.
ExitCode compare_pictures(const CompareOptions& options, std::chrono::system_clock::time_point now);

}  // namespace potshadow

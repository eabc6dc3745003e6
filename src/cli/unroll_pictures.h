// SPDX-License-Identifier: MIT
// 'potshadow unroll' itself, in the program that reads pixels.
#pragma once

#include <chrono>

#include "cli/console.h"
#include "cli/unroll_options.h"

namespace potshadow {

// Measures the project, takes the painting off its photographs and writes it; prints what it has to
// say and returns the exit code. `now` is the date printed on sheets, in UTC.
ExitCode unroll_pictures(const UnrollOptions& options, std::chrono::system_clock::time_point now);

}  // namespace potshadow

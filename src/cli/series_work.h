// SPDX-License-Identifier: MIT
// 'potshadow compare' with several pots.
#pragma once

#include <chrono>

#include "cli/compare_options.h"
#include "cli/console.h"

namespace potshadow {

// Holds each pot against the original and writes what was asked for; prints what it has to say and
// returns the exit code. `now` is the date on the sheet.
ExitCode series_and_write(const CompareOptions& options, std::chrono::system_clock::time_point now);

}  // namespace potshadow

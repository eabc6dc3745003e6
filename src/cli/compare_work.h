// SPDX-License-Identifier: MIT
// 'potshadow compare', but for what takes pixels.
#pragma once

#include <chrono>
#include <functional>
#include <vector>

#include "cli/compare_options.h"
#include "cli/console.h"
#include "project/compare_report.h"
#include "project/compare_side.h"

namespace potshadow {

struct ComparedPair {
  CompareSide original;
  CompareSide replica;
  VesselComparison comparison;
};

// What the program that reads pixels adds: pieces for the sheet, and the picture of one photograph
// over the other, which it writes.
using PhotoWork = std::function<Result<std::vector<Pattern>>(const ComparedPair& pair)>;

// Compares and writes what was asked for; prints what it has to say and returns the exit code.
// `now` is the date on the sheet.
ExitCode compare_and_write(const CompareOptions& options, std::chrono::system_clock::time_point now,
                           const PhotoWork& photo_work);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The bench sheet of a measured vessel: what stands on it.
#pragma once

#include <chrono>
#include <string>

#include "clay/bench_sheet_content.h"
#include "project/measure.h"

namespace potshadow {

// Returns what the bench sheet says of a measurement and its plan (plan_for), dated `now` in UTC.
// Requires that the clay is known, as every plan does. `file` is the project's file, for a vessel
// without a name.
BenchSheetContent bench_sheet_content(const Measurement& measurement, const BuildPlan& plan,
                                      const std::string& file, LengthUnit unit,
                                      std::chrono::system_clock::time_point now);

}  // namespace potshadow

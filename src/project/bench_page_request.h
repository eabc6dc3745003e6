// SPDX-License-Identifier: MIT
// From a measurement and a plan to the bench sheet's figures, ready to be set.
#pragma once

#include <optional>

#include "core/result.h"
#include "project/measure.h"
#include "sheets/bench_sheet.h"

namespace potshadow {

// Returns what the bench sheet says, of the book's figures for the project's clay and of the plan
// to build the vessel with this wall and cradle line. Fails as plan_for does.
Result<BenchSheet> bench_page_request(const Measurement& measurement, const Result<ClayBook>& book,
                                      std::optional<double> wall_mm,
                                      std::optional<double> cradle_mm, LengthUnit unit);

}  // namespace potshadow

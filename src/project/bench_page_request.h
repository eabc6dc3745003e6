// SPDX-License-Identifier: MIT
// From a measurement and a plan to the bench sheet's figures, ready to be set.
#pragma once

#include <chrono>
#include <optional>
#include <string>

#include "core/result.h"
#include "project/measure.h"
#include "project/sheet_request.h"
#include "sheets/bench_sheet.h"

namespace potshadow {

// Returns what the bench sheet says, of the book's figures for the project's clay and of the plan
// to build the vessel with this wall and cradle line. Fails as plan_for does.
Result<BenchSheet> bench_page_request(const Measurement& measurement, const Result<ClayBook>& book,
                                      std::optional<double> wall_mm,
                                      std::optional<double> cradle_mm, LengthUnit unit);

// Returns the bench sheet alone as a PDF, for the wet pot, by what the project itself chooses.
// Requires that the clay's figures were added (add_clay).
// `file` is the project's file, for a vessel without a name. Fails as bench_page_request and
// sheet_set do. Slow: about a tenth of a second.
Result<SheetPdf> bench_sheet_pdf(const Measurement& measurement, const Result<ClayBook>& book,
                                 const std::string& file, const SheetChoices& choices,
                                 std::chrono::system_clock::time_point now);

}  // namespace potshadow

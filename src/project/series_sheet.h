// SPDX-License-Identifier: MIT
// A series of pots on paper and as a drawing.
#pragma once

#include <chrono>
#include <vector>

#include "core/result.h"
#include "patterns/pattern.h"
#include "project/compare_series.h"
#include "project/sheet_request.h"
#include "sheets/template_sheet.h"

namespace potshadow {

// Returns the small pictures of all pots at `scale`, in rows no wider than `most_width_mm`, and the
// chart of their shrinkage where a pot was followed.
std::vector<Pattern> series_drawings(const PotSeries& series, double scale, double most_width_mm);

// Returns the sheet as a PDF: pictures, shrinkage, verdicts, the next pot's sizes. Fails as
// pattern_sheet_set. Slow: about a tenth of a second.
Result<SheetPdf> series_pdf(const PotSeries& series, const SheetChoices& choices,
                            std::chrono::system_clock::time_point now);

}  // namespace potshadow

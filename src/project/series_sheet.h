// SPDX-License-Identifier: MIT
// A series of pots on paper and as a drawing.
#pragma once

#include <chrono>
#include <string>

#include "core/result.h"
#include "patterns/pattern.h"
#include "project/compare_series.h"
#include "project/sheet_request.h"
#include "sheets/template_sheet.h"

namespace potshadow {

// Returns the small pictures of all pots at `scale`, in rows no wider than `most_width_mm`, and
// below them the chart of their shrinkage where a pot was followed.
Pattern series_drawing(const PotSeries& series, double scale, double most_width_mm);

// Returns that at 1:4 as a file holds it, and what is said of it there: "as measured, scale 1:4,
// millimetres".
Pattern series_drawing_for_file(const PotSeries& series);
std::string series_drawing_words(const PotSeries& series);

// Returns the sheets as a PDF: first pictures and shrinkage, then the next pot's sizes, what each
// differs by, and all in words. Fails as pattern_sheet_set. Slow: about a tenth of a second.
Result<SheetPdf> series_pdf(const PotSeries& series, const SheetChoices& choices,
                            std::chrono::system_clock::time_point now);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A finished page as a PDF; for this part only.
#pragma once

#include <string>

#include "core/result.h"
#include "sheets/drawing.h"
#include "sheets/template_sheet.h"

namespace potshadow {

// Returns the page as a PDF with this title and date. Fails with kBadValue (a date that is not one)
// or kCannotBeAnswered (no font found).
Result<SheetPdf> one_page_pdf(const std::string& title, const PageDrawing& page,
                              const std::string& created_iso);

// Returns the problem of a date that is none.
Problem no_date(const std::string& created_iso);

}  // namespace potshadow

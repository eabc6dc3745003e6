// SPDX-License-Identifier: MIT
// The page to take along to the museum: what to photograph and to write down, and a card of known
// size to cut out.
#pragma once

#include <string>

#include "core/result.h"
#include "sheets/template_layout.h"
#include "sheets/template_sheet.h"

// Model: one upright page that is read in two minutes, filled in by hand, and of which the card at
// the foot is cut out. Frame: as drawing.h.
namespace potshadow {

inline constexpr double kVisitCardWidthMm = 90.0;
inline constexpr double kVisitCardHeightMm = 60.0;

struct VisitSheetRequest {
  Paper paper = Paper::kA4;
  std::string created_iso;  // "2026-11-25" or "2026-11-25T14:30:00Z": the PDF's date
};

// The page before it is a PDF.
struct VisitSheetLayout {
  PageBox card;       // its edge is the middle of the line
  TemplatePage page;  // its check bars, and what is drawn
};

// Returns the page's layout. It depends on nothing but the paper.
VisitSheetLayout visit_sheet_layout(Paper paper);

// Returns the sheet as a PDF of one page in memory. Fails with kBadValue (a date that is not one)
// or kCannotBeAnswered (no font found). Slow: about a tenth of a second.
Result<SheetPdf> visit_sheet(const VisitSheetRequest& request);

}  // namespace potshadow

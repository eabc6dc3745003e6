// SPDX-License-Identifier: MIT
// The printed test bar: two marks 100 mm apart at true size, how to make bars, and a table for
// them.
#pragma once

#include <string>

#include "core/result.h"
#include "sheets/template_layout.h"
#include "sheets/template_sheet.h"

// Model: one upright page. A bar of 130 x 25 mm is laid on its outline and its two marks are
// pricked through onto the wet clay; later the same marks are measured dry and fired. The marks are
// fine and long, for coarse ones scatter more than the clay does. A table takes ten bars, as many
// as the standard asks for. Frame: as drawing.h. Source: ASTM C326-03 (ten bars, marks 4 in apart;
// 100 mm here).
namespace potshadow {

inline constexpr double kBarMarksMm = 100.0;
inline constexpr double kTestBarLengthMm = 130.0;
inline constexpr double kTestBarWidthMm = 25.0;

struct BarSheetRequest {
  Paper paper = Paper::kA4;
  std::string created_iso;  // "2026-11-25" or "2026-11-25T14:30:00Z": the PDF's date
};

// The page before it is a PDF.
struct BarSheetLayout {
  PageBox bar;                // the bar's outline
  double left_mark_mm = 0.0;  // where the marks stand, from the page's left side
  double right_mark_mm = 0.0;
  TemplatePage page;  // its check bars, and what is drawn
};

// Returns the page's layout. It depends on nothing but the paper.
BarSheetLayout bar_sheet_layout(Paper paper);

// Returns the sheet as a PDF of one page in memory. Fails with kBadValue (a date that is not one)
// or kCannotBeAnswered (no font found). Slow: about a tenth of a second.
Result<SheetPdf> bar_sheet(const BarSheetRequest& request);

}  // namespace potshadow

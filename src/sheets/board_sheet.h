// SPDX-License-Identifier: MIT
// The printed chessboard that a camera is calibrated with, as a PDF at true size.
#pragma once

#include <string>

#include "core/result.h"
#include "sheets/template_layout.h"
#include "sheets/template_sheet.h"

// Model: ten by seven squares of 24 mm, so nine by six inner corners, lying on one page of ordinary
// paper with white all around them, above two check bars and how to use it. An odd and an even
// number of corners tell the board's long side from its short one. Frame: as drawing.h.
namespace potshadow {

inline constexpr int kBoardColumns = 9;  // inner corners
inline constexpr int kBoardRows = 6;
inline constexpr double kBoardSquareMm = 24.0;

struct BoardSheetRequest {
  Paper paper = Paper::kA4;
  std::string created_iso;  // "2026-11-25" or "2026-11-25T14:30:00Z": the PDF's date
};

// The page before it is a PDF.
struct BoardLayout {
  PageBox board;      // the outline of all squares
  TemplatePage page;  // its bars, and what is drawn
};

// Returns the page's layout. It depends on nothing but the paper.
BoardLayout board_layout(Paper paper);

// Returns the board as a PDF of one page in memory. Fails with kBadValue (a date that is not one)
// or kCannotBeAnswered (no font found). Slow: about a tenth of a second.
Result<SheetPdf> board_sheet(const BoardSheetRequest& request);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Turns drawn pages into the bytes of a PDF.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "sheets/drawing.h"

// Text is set in Inter, else DejaVu Sans, else any installed font that has the letter, else "?".
// Fonts are embedded. Control and direction marks in a text are left out; scripts whose letters are
// joined or reordered are not shaped. A millimetre is exactly 72/25.4 PDF units.
namespace potshadow {

struct PdfWords {
  std::string title;
  std::string created_iso;  // "2026-11-25" or "2026-11-25T14:30:00Z"
};

// Returns the PDF's bytes, the same for the same pages and the same installed fonts; a note where
// neither Inter nor DejaVu Sans is installed. Fails with kCannotBeAnswered (no font at all, or the
// PDF could not be made). Slow: about a tenth of a second.
Result<std::string> pdf_of(const std::vector<PageDrawing>& pages, const PdfWords& words);

// Returns a date or a time in UTC as "2026-11-25T14:30:00Z", or nothing where `iso` is neither.
std::optional<std::string> full_date(const std::string& iso);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "sheets/sheet_pdf.h"

#include <optional>
#include <utility>
#include <vector>

#include "core/printable.h"
#include "sheets/pdf_writer.h"

namespace potshadow {

Problem no_date(const std::string& created_iso) {
  return {Code::kBadValue, "\"" + printable_text(created_iso) + "\" is not a date.",
          "Give the date as 2026-11-25 or 2026-11-25T14:30:00Z.", ""};
}

Result<SheetPdf> one_page_pdf(const std::string& title, const PageDrawing& page,
                              const std::string& created_iso) {
  const std::optional<std::string> created = full_date(created_iso);
  if (!created) return no_date(created_iso);
  Result<std::string> bytes = pdf_of({page}, {title, *created});
  if (!bytes) return bytes.problem();
  std::vector<Note> notes = bytes.notes();
  return Result<SheetPdf>(SheetPdf{std::move(bytes).value(), 1}, std::move(notes));
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "sheets/template_sheet.h"

#include <optional>
#include <utility>

#include "sheets/pdf_writer.h"
#include "sheets/sheet_pdf.h"
#include "sheets/template_layout.h"

namespace potshadow {
Result<SheetPdf> template_sheet(const TemplateRequest& request) {
  const std::optional<std::string> created = full_date(request.created_iso);
  if (!created) return no_date(request.created_iso);
  const Result<TemplateLayout> layout = template_layout(request);
  if (!layout) return layout.problem();
  std::vector<PageDrawing> pages;
  for (const TemplatePage& page : layout->pages) pages.push_back(page.drawing);
  Result<std::string> bytes = pdf_of(pages, {request.vessel_name, *created});
  if (!bytes) return bytes.problem();
  std::vector<Note> notes = bytes.notes();
  return Result<SheetPdf>(SheetPdf{std::move(bytes).value(), static_cast<int>(pages.size())},
                          std::move(notes));
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "sheets/template_sheet.h"

#include <optional>
#include <string_view>
#include <utility>

#include "sheets/pdf_writer.h"
#include "sheets/template_layout.h"

namespace potshadow {
namespace {

// Returns the date as "2026-11-25T14:30:00Z", or nothing where `iso` is not a date.
std::optional<std::string> full_date(const std::string& iso) {
  constexpr std::string_view kShape = "dddd-dd-ddTdd:dd:ddZ";
  constexpr std::size_t kDayLength = 10;
  std::string full = iso;
  if (full.size() == kDayLength) full += "T00:00:00Z";
  if (full.size() != kShape.size()) return std::nullopt;
  for (std::size_t i = 0; i < kShape.size(); ++i) {
    const bool digit = full[i] >= '0' && full[i] <= '9';
    if (kShape[i] == 'd' ? !digit : full[i] != kShape[i]) return std::nullopt;
  }
  const auto two = [&full](std::size_t at) { return (full[at] - '0') * 10 + full[at + 1] - '0'; };
  const bool sound = two(5) >= 1 && two(5) <= 12 && two(8) >= 1 && two(8) <= 31 && two(11) < 24 &&
                     two(14) < 60 && two(17) < 60;
  if (!sound) return std::nullopt;
  return full;
}

}  // namespace

Result<SheetPdf> template_sheet(const TemplateRequest& request) {
  const std::optional<std::string> created = full_date(request.created_iso);
  if (!created) {
    return Problem{Code::kBadValue,
                   "\"" + printable_text(request.created_iso) + "\" is not a date.",
                   "Give the date as 2026-11-25 or 2026-11-25T14:30:00Z.", ""};
  }
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

// SPDX-License-Identifier: MIT
#include "sheets/pdf_writer.h"

#include <cairo-pdf.h>
#include <cairo.h>

#include <exception>
#include <utility>

#include "core/printable.h"
#include "sheets/page_painter.h"

namespace potshadow {
namespace {

constexpr double kPointsPerMm = 72.0 / 25.4;

cairo_status_t append_bytes(void* bytes, const unsigned char* data, unsigned int length) {
  try {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  } catch (const std::exception&) {  // must not pass through a C library
    return CAIRO_STATUS_NO_MEMORY;
  }
  return CAIRO_STATUS_SUCCESS;
}

Problem not_made(cairo_status_t status) {
  return {Code::kCannotBeAnswered, "The PDF could not be made.", "Free some memory and try again.",
          cairo_status_to_string(status)};
}

}  // namespace

Result<std::string> pdf_of(const std::vector<PageDrawing>& pages, const PdfWords& words) {
  auto loaded = SheetFonts::load();
  if (!loaded) return loaded.problem();
  std::vector<Note> notes = loaded.notes();
  SheetFonts fonts = std::move(loaded).value();

  std::string bytes;
  {
    const SurfacePtr surface(cairo_pdf_surface_create_for_stream(append_bytes, &bytes, 1.0, 1.0));
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE,
                                   printable_text(words.title).c_str());
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "Potshadow");
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                   words.created_iso.c_str());
    for (const PageDrawing& page : pages) {
      cairo_pdf_surface_set_size(surface.get(), page.width_mm * page.stretch_x * kPointsPerMm,
                                 page.height_mm * page.stretch_y * kPointsPerMm);
      const ContextPtr cairo(cairo_create(surface.get()));
      fonts.paint(cairo.get(), page, kPointsPerMm);
      cairo_show_page(cairo.get());
      const cairo_status_t status = cairo_status(cairo.get());
      if (status != CAIRO_STATUS_SUCCESS) return not_made(status);
    }
    cairo_surface_finish(surface.get());
    const cairo_status_t status = cairo_surface_status(surface.get());
    if (status != CAIRO_STATUS_SUCCESS) return not_made(status);
  }
  return Result<std::string>(std::move(bytes), std::move(notes));
}

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

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "sheets/page_picture.h"

#include <cairo.h>

#include <cmath>
#include <cstdint>
#include <cstring>
#include <new>
#include <utility>

#include "sheets/page_painter.h"

namespace potshadow {
namespace {

constexpr std::size_t kBytesPerPixel = 4;
constexpr double kMostAlongASide = 32767.0;  // Cairo's limit

// Returns whole pixels for a side; what rounding adds to a whole number does not count.
double side_px(double mm, double px_per_mm) {
  constexpr double kRounding = 1e-6;
  return std::ceil(mm * px_per_mm - kRounding);
}

// Returns whether a picture can have such a side; not with NaN.
bool possible(double px) { return px >= 1.0 && px <= kMostAlongASide; }

Problem not_drawn(std::string detail) {
  return {Code::kCannotBeAnswered, "The page could not be drawn.",
          "Close other programs to free memory, or make the page smaller.", std::move(detail)};
}

// Cairo keeps a pixel as one number, blue lowest; makes blue the first byte on every machine.
void order_bytes(std::vector<unsigned char>& bytes) {
  for (std::size_t i = 0; i + kBytesPerPixel <= bytes.size(); i += kBytesPerPixel) {
    std::uint32_t pixel = 0;
    std::memcpy(&pixel, &bytes[i], kBytesPerPixel);
    for (std::size_t k = 0; k < kBytesPerPixel; ++k) {
      bytes[i + k] = static_cast<unsigned char>((pixel >> (8U * k)) & 0xFFU);
    }
  }
}

}  // namespace

Result<PagePixels> page_picture(const PageDrawing& page, double px_per_mm) {
  const double width = side_px(page.width_mm * page.stretch_x, px_per_mm);
  const double height = side_px(page.height_mm * page.stretch_y, px_per_mm);
  if (!(px_per_mm > 0.0) || !possible(width) || !possible(height) ||
      width * height > kMostPagePixels) {
    return Problem{Code::kBadValue, "The page cannot be shown as large or as small as that.",
                   "Show it at another size.", ""};
  }
  auto loaded = SheetFonts::load();
  if (!loaded) return loaded.problem();
  std::vector<Note> notes = loaded.notes();
  SheetFonts fonts = std::move(loaded).value();
  PagePixels pixels;
  pixels.width_px = static_cast<int>(width);
  pixels.height_px = static_cast<int>(height);
  try {
    pixels.bytes.resize(kBytesPerPixel * static_cast<std::size_t>(pixels.width_px) *
                        static_cast<std::size_t>(pixels.height_px));
  } catch (const std::bad_alloc&) {
    return not_drawn("");
  }
  {
    // A row of whole 32-bit numbers needs no filling up.
    const SurfacePtr surface(cairo_image_surface_create_for_data(
        pixels.bytes.data(), CAIRO_FORMAT_RGB24, pixels.width_px, pixels.height_px,
        static_cast<int>(kBytesPerPixel) * pixels.width_px));
    const ContextPtr cairo(cairo_create(surface.get()));
    cairo_set_source_rgb(cairo.get(), 1.0, 1.0, 1.0);
    cairo_paint(cairo.get());
    fonts.paint(cairo.get(), page, px_per_mm);
    cairo_surface_flush(surface.get());
    const cairo_status_t status = cairo_status(cairo.get());
    if (status != CAIRO_STATUS_SUCCESS) return not_drawn(cairo_status_to_string(status));
  }
  order_bytes(pixels.bytes);
  return {std::move(pixels), std::move(notes)};
}

}  // namespace potshadow

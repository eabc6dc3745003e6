// SPDX-License-Identifier: MIT
#include "sheets/pattern_picture.h"

#include <cairo.h>

#include <algorithm>
#include <cstdint>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "sheets/drawn_pattern.h"

namespace potshadow {
namespace {

constexpr double kMarginMm = 4.0;

cairo_status_t append(void* to, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

struct DestroySurface {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};

}  // namespace

Result<PagePixels> pattern_picture(const Pattern& pattern, int long_px) {
  const PatternBox box = box_of(pattern);
  PageDrawing page;
  page.width_mm = box.width() + 2.0 * kMarginMm;
  page.height_mm = box.height() + 2.0 * kMarginMm;
  page.groups.push_back(
      {std::nullopt, drawn_pattern(pattern, {kMarginMm - box.left_mm, kMarginMm + box.top_mm})});
  return page_picture(page, long_px / std::max(page.width_mm, page.height_mm));
}

Result<std::string> pattern_png(const Pattern& pattern) {
  constexpr int kLongPx = 2400;
  Result<PagePixels> found = pattern_picture(pattern, kLongPx);
  if (!found) return found.problem();
  PagePixels pixels = std::move(found).value();
  // Cairo takes a pixel as one number, blue lowest.
  std::vector<std::uint32_t> numbers(pixels.bytes.size() / 4);
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const auto byte = [&](std::size_t k) { return std::uint32_t{pixels.bytes[4 * i + k]}; };
    numbers[i] = byte(0) | byte(1) << 8U | byte(2) << 16U;
  }
  const std::unique_ptr<cairo_surface_t, DestroySurface> surface(
      cairo_image_surface_create_for_data(reinterpret_cast<unsigned char*>(numbers.data()),
                                          CAIRO_FORMAT_RGB24, pixels.width_px, pixels.height_px,
                                          4 * pixels.width_px));
  std::string bytes;
  if (cairo_surface_write_to_png_stream(surface.get(), append, &bytes) != CAIRO_STATUS_SUCCESS) {
    return Problem{Code::kCannotBeAnswered, "The picture could not be made.",
                   "Close other programs to free memory.", ""};
  }
  return bytes;
}

}  // namespace potshadow

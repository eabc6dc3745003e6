// SPDX-License-Identifier: MIT
// Draws a page with Cairo, on paper or on a screen: the one place that turns drawings into ink.
#pragma once

#include <cairo.h>

#include <memory>

#include "core/result.h"
#include "sheets/drawing.h"

// For this part's own use: pdf_writer and page_picture give it a surface each, of which a unit is a
// point or a pixel. Text is set as pdf_writer.h says.
namespace potshadow {

struct SurfaceDeleter {
  void operator()(cairo_surface_t* p) const { cairo_surface_destroy(p); }
};
struct ContextDeleter {
  void operator()(cairo_t* p) const { cairo_destroy(p); }
};
using SurfacePtr = std::unique_ptr<cairo_surface_t, SurfaceDeleter>;
using ContextPtr = std::unique_ptr<cairo_t, ContextDeleter>;

// The installed fonts, loaded for one sheet and let go with it. Not for two threads at once.
class SheetFonts {
 public:
  // Returns the fonts; a note where neither Inter nor DejaVu Sans is installed. Fails with
  // kCannotBeAnswered where there is no font at all. Slow: some 10 ms.
  static Result<SheetFonts> load();

  SheetFonts(SheetFonts&&) noexcept;
  SheetFonts& operator=(SheetFonts&&) noexcept;
  SheetFonts(const SheetFonts&) = delete;
  SheetFonts& operator=(const SheetFonts&) = delete;
  ~SheetFonts();

  // Draws the page from the context's origin on. Whoever calls looks at the context's status.
  void paint(cairo_t* cairo, const PageDrawing& page, double units_per_mm);

 private:
  struct Loaded;
  explicit SheetFonts(std::unique_ptr<Loaded> loaded);
  std::unique_ptr<Loaded> loaded_;
};

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A piece on many pages, against the bare drawing of as many pages with as many strokes.
#include <benchmark/benchmark.h>
#include <cairo/cairo-pdf.h>

#include <cmath>
#include <memory>
#include <numbers>
#include <string>
#include <vector>

#include "sheets/sheet_set.h"
#include "sheets/vessels.h"

namespace potshadow {
namespace {

constexpr int kStrokes = 2000;  // of the piece's edge: one every two millimetres or so

// A wavy sheet of paper, as a wall that was laid flat is: as many strips side by side as it has
// rows of pages.
PatternSheet wide_piece(double width_mm, double height_mm) {
  PatternSheet sheet;
  sheet.title = "Wall laid flat";
  Pattern piece;
  piece.name = "Wall";
  PatternPath edge{.points = {}, .line = PatternLine::kCut, .closed = true};
  for (int i = 0; i < kStrokes; ++i) {
    const double angle = 2.0 * std::numbers::pi * i / kStrokes;
    const double wave = 1.0 + 0.02 * std::cos(40.0 * angle);
    edge.points.push_back(
        {0.5 * width_mm * wave * std::cos(angle), 0.5 * height_mm * wave * std::sin(angle)});
  }
  piece.paths.push_back(edge);
  for (double x = -0.4 * width_mm; x < 0.4 * width_mm; x += 10.0) {
    add_line(piece, {x, -0.4 * height_mm}, {x, 0.4 * height_mm}, PatternLine::kFaint);
  }
  sheet.pieces.push_back(std::move(piece));
  return sheet;
}

// Range 0: tenths of a metre of the piece's width and two thirds of its height.
PatternSheet piece_for(const benchmark::State& state) {
  const double width_mm = 100.0 * static_cast<double>(state.range(0));
  return wide_piece(width_mm, width_mm / 1.5);
}

void tiled_sheet(benchmark::State& state) {
  const PatternSheet sheet = piece_for(state);
  const TemplateRequest facts = test::request_for(test::jar());
  int pages = 0;
  for (auto _ : state) {
    const Result<SheetPdf> pdf = pattern_sheet_set({sheet}, facts);
    if (!pdf) {
      state.SkipWithError(pdf.problem().what.c_str());
      break;
    }
    pages = pdf->pages;
    benchmark::DoNotOptimize(pdf->bytes.data());
  }
  state.counters["pages"] = pages;
}

cairo_status_t dropped(void*, const unsigned char*, unsigned int) { return CAIRO_STATUS_SUCCESS; }

void tiled_sheet_limit(benchmark::State& state) {
  const PatternSheet sheet = piece_for(state);
  const Result<std::vector<TemplatePage>> pages =
      pattern_sheet_pages({sheet}, test::request_for(test::jar()));
  if (!pages) {
    state.SkipWithError(pages.problem().what.c_str());
    return;
  }
  for (auto _ : state) {
    const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
        cairo_pdf_surface_create_for_stream(dropped, nullptr, 595.0, 842.0), cairo_surface_destroy);
    const std::unique_ptr<cairo_t, decltype(&cairo_destroy)> pen(cairo_create(surface.get()),
                                                                 cairo_destroy);
    for (std::size_t page = 0; page < pages->size(); ++page) {
      for (const PatternPath& path : sheet.pieces.front().paths) {
        for (const PatternPoint& at : path.points) cairo_line_to(pen.get(), at.x_mm, at.y_mm);
        cairo_stroke(pen.get());
      }
      cairo_show_page(pen.get());
    }
  }
  state.counters["pages"] = static_cast<double>(pages->size());
}

void piece_widths(benchmark::internal::Benchmark* each) {
  for (const int tenths : {4, 6, 9, 14}) each->Arg(tenths);
  each->Unit(benchmark::kMillisecond);
}
BENCHMARK(tiled_sheet)->Apply(piece_widths);
BENCHMARK(tiled_sheet_limit)->Apply(piece_widths);

}  // namespace
}  // namespace potshadow

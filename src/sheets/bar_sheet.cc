// SPDX-License-Identifier: MIT
#include "sheets/bar_sheet.h"

#include <array>
#include <string_view>
#include <utility>
#include <vector>

#include "sheets/page_blocks.h"
#include "sheets/page_text.h"
#include "sheets/sheet_pdf.h"

namespace potshadow {
namespace {

constexpr double kQuietGrey = 0.4;

constexpr std::array<std::string_view, 9> kHowTo{
    "1  Roll or press the clay as you make pots of it, 6 to 10 mm thick. Cut bars to the outline.",
    "2  Cut some along the wall's height and some around it if you want to know both apart.",
    "3  Lay a bar on the outline while it is wet, and cut both marks across it with a thin blade.",
    "4  Scratch its number into it. Write down the length between the marks, and its weight.",
    "5  Dry the bars slowly and flat, and turn them often. Measure and weigh them bone-dry.",
    "6  Fire them as you fire pots. Measure between the same edges of the marks, and weigh again.",
    "7  Measure to half a millimetre or better. Make ten bars; three are the least that tell "
    "anything.",
    "8  Percentages count on the earlier length: drying on wet, firing on dry, total on wet.",
    "9  Write each bar into the book: potshadow clay bar RECORD --wet 100 --dry 94.2 --fired 88.1"};

constexpr std::array<std::string_view, 4> kCautions{
    "Dust of dry clay and grog holds silica: work and clean wet, wear a fitted respirator.",
    "Fire only what is dry right through. Clays with lime weaken from about 700 °C on.",
    "Mind the knife. In the open: local burn rules, no accelerants, eyes and hands protected.",
    "Local codes and licensed practice come first."};

constexpr std::array<std::string_view, 8> kColumns{"Bar",    "Wet, mm", "Dry, mm",  "Fired, mm",
                                                   "Wet, g", "Dry, g",  "Fired, g", "Firing, date"};

void draw_table(const PageBox& box, std::vector<Drawn>& out) {
  constexpr int kRows = 10;
  const double row = box.height() / (kRows + 1);
  // The last column holds words.
  const double column = box.width() / (static_cast<double>(kColumns.size()) + 1.0);
  for (int i = 0; i <= kRows + 1; ++i) {
    const double y = box.top_mm + i * row;
    out.push_back(line({box.left_mm, y}, {box.right_mm, y}, 0.15, kQuietGrey));
  }
  for (std::size_t i = 0; i <= kColumns.size(); ++i) {
    const double x =
        i == kColumns.size() ? box.right_mm : box.left_mm + static_cast<double>(i) * column;
    out.push_back(line({x, box.top_mm}, {x, box.bottom_mm}, 0.15, kQuietGrey));
    if (i == kColumns.size()) continue;
    Label label = page_text(std::string(kColumns[i]), {x + 1.2, box.top_mm + 0.68 * row}, column);
    label.size_mm = 2.8;
    out.push_back(label);
  }
  for (int i = 1; i <= kRows; ++i) {
    const double y = box.top_mm + (i + 0.68) * row;
    out.push_back(page_text(std::to_string(i), {box.left_mm + 1.2, y}, column));
  }
}

void draw_bar(const BarSheetLayout& layout, std::vector<Drawn>& out) {
  const PageBox& bar = layout.bar;
  out.push_back(outlined(bar, 0.25, 0.0));
  constexpr double kBeyondMm = 4.0;  // so that a mark shows beside the clay that lies on the page
  constexpr double kMarkWidthMm = 0.15;
  for (const double x : {layout.left_mark_mm, layout.right_mark_mm}) {
    out.push_back(
        line({x, bar.top_mm - kBeyondMm}, {x, bar.bottom_mm + kBeyondMm}, kMarkWidthMm, 0.0));
  }
  const double middle = (bar.left_mm + bar.right_mm) / 2.0;
  Label label =
      page_text("100 mm from mark to mark", {middle, bar.bottom_mm + 3.6}, kBarMarksMm - 4.0);
  label.align = Align::kCentre;
  out.push_back(label);
  Label number =
      page_text("number of the bar", {middle, (bar.top_mm + bar.bottom_mm) / 2.0 + 1.0}, 60.0);
  number.align = Align::kCentre;
  number.grey = kQuietGrey;
  out.push_back(number);
}

}  // namespace

BarSheetLayout bar_sheet_layout(Paper paper) {
  BarSheetLayout layout;
  layout.page.drawing = upright_page(paper);
  const PageDrawing& size = layout.page.drawing;
  const double left = kPageMarginMm;
  const double width = size.width_mm - 2.0 * kPageMarginMm;
  std::vector<Drawn> drawn;

  double y = kPageMarginMm;
  drawn.push_back(page_heading("Test bars", 5.4, {left, y + 5.0}, width));
  y += 7.0;
  drawn.push_back(
      page_text("Clay:                                                          Mixed of, by "
                "dry weight:",
                {left, y + 5.0}, width));
  y += 14.0;
  const double middle = size.width_mm / 2.0;
  layout.bar = {middle - kTestBarLengthMm / 2.0, y, middle + kTestBarLengthMm / 2.0,
                y + kTestBarWidthMm};
  layout.left_mark_mm = middle - kBarMarksMm / 2.0;
  layout.right_mark_mm = middle + kBarMarksMm / 2.0;
  draw_bar(layout, drawn);
  y = layout.bar.bottom_mm + 7.0;
  draw_text_lines(kHowTo, left, width, y, drawn);

  // From the foot up: the check bars, the cautions; the table takes what is left.
  const double bars_top = size.height_mm - kPageMarginMm - lying_bars_with_words_size().height_mm;
  const double cautions_top = bars_top - 3.0 - static_cast<double>(kCautions.size()) * kPageLineMm;
  draw_table({left, y + 4.0, left + width, cautions_top - 2.0}, drawn);
  double below = cautions_top;
  draw_text_lines(kCautions, left, width, below, drawn);
  layout.page.drawing.groups.push_back({std::nullopt, std::move(drawn)});
  draw_lying_bars_with_words(layout.page, {left, bars_top});
  return layout;
}

Result<SheetPdf> bar_sheet(const BarSheetRequest& request) {
  const BarSheetLayout layout = bar_sheet_layout(request.paper);
  return one_page_pdf("Potshadow test bars", layout.page.drawing, request.created_iso);
}

}  // namespace potshadow

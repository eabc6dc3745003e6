// SPDX-License-Identifier: MIT
#include "sheets/page_head.h"

#include <algorithm>
#include <utility>

#include "sheets/page_text.h"

namespace potshadow {
namespace {

constexpr double kQuietGrey = 0.4;
constexpr double kNameSizeMm = 4.8;
constexpr double kTextSizeMm = 2.9;
constexpr double kNameLineMm = 6.6;
constexpr double kTextLineMm = 4.2;
constexpr double kHeadGapMm = 3.0;
constexpr double kStripGapMm = 3.5;
constexpr double kFootLineMm = 3.75;
constexpr double kMapHeightMm = 70.0;

// The lines under the name.
std::vector<std::pair<std::string, double>> lines_of(const SheetHead& head) {
  const TemplateWords& words = head.words;
  const bool original = !head.size_words.empty();
  std::vector<std::pair<std::string, double>> lines;
  const std::string size = original ? head.size_words : words.stage + " size";
  const std::string scale = head.scale.empty() ? "" : ", scale " + head.scale;
  const std::string clay =
      head.for_making ? " · " + words.clay + " · " + lower_first(words.shrinkage) : "";
  lines.emplace_back(upper_first(size) + scale + clay, 0.0);
  if (!words.printer.empty()) lines.emplace_back(words.printer, kQuietGrey);
  for (const std::string& how : head.how) lines.emplace_back(how, kQuietGrey);
  return lines;
}

}  // namespace

double head_height(const SheetHead& head) {
  const double guessed = head.words.scale.empty() ? 0.0 : kTextLineMm;
  return kNameLineMm + guessed + kTextLineMm * static_cast<double>(lines_of(head).size()) +
         kHeadGapMm;
}

PageBox head_window(const PageFrame& frame, double head_mm) {
  PageBox window = frame.usable;
  window.top_mm += head_mm;
  window.left_mm += standing_bars_size().width_mm + kStripGapMm;
  window.bottom_mm -= lying_bars_size().height_mm + kStripGapMm;
  return window;
}

void draw_head(TemplatePage& page, const PageFrame& frame, const SheetHead& head,
               const PageWords& on_page, const std::vector<MapCell>& cells,
               const std::vector<std::vector<ProfilePoint>>& outlines) {
  const PageBox& usable = frame.usable;
  std::vector<Drawn> out;
  const double left = usable.left_mm;
  double y = usable.top_mm + kNameLineMm;
  const std::string paged = page_line(head.words, on_page);
  constexpr double kPagedMm = 74.0;
  Label right = sized_text(paged, kTextSizeMm, {usable.right_mm, y - 2.2}, kPagedMm);
  right.align = Align::kRight;
  right.grey = kQuietGrey;
  out.emplace_back(right);
  // The sheet's name, then the vessel's, which gives way where there is no room.
  Label name = sized_text(head.title + " · " + head.words.name, kNameSizeMm, {left, y - 2.2},
                          usable.width() - kPagedMm - 4.0);
  name.bold = true;
  out.emplace_back(name);
  if (!head.words.scale.empty()) {
    y += kTextLineMm;
    Label guessed = sized_text(head.words.scale, kTextSizeMm, {left, y - 1.6}, usable.width());
    guessed.bold = true;
    out.emplace_back(guessed);
  }
  for (const auto& [words, grey] : lines_of(head)) {
    y += kTextLineMm;
    Label label = sized_text(words, kTextSizeMm, {left, y - 1.6}, usable.width());
    label.grey = grey;
    out.emplace_back(label);
  }
  // The foot: bars, and beside them what they are for and how the sheet is joined.
  const double foot = usable.bottom_mm - lying_bars_size().height_mm;
  const double words_left = left + lying_bars_size().width_mm + kBlockGapMm;
  double line_y = foot;
  const auto add = [&](const std::string& words, double size, bool bold, double grey) {
    line_y += kFootLineMm;
    Label label = sized_text(words, size, {words_left, line_y - 0.9}, usable.right_mm - words_left);
    label.bold = bold;
    label.grey = grey;
    out.emplace_back(label);
  };
  add("Measure this bar before cutting", 3.4, true, 0.0);
  add("Not 100 mm and 4 in? Print at actual size, or make up", 2.7, false, 0.0);
  add("for your printer: potshadow printer.", 2.7, false, 0.0);
  const std::string joins = joins_text(on_page);
  add(joins.empty() ? head.piece : joins, 2.7, !joins.empty(), 0.0);
  page.drawing.groups.push_back({std::nullopt, std::move(out)});
  draw_lying_bars(page, {left, foot});
  const double standing_top = foot - kStripGapMm - standing_bars_size().height_mm;
  draw_standing_bars(page, {left, standing_top});
  if (cells.size() < 2) return;
  const double map_top = usable.top_mm + head_height(head);
  const PageBox map{left, map_top, left + standing_bars_size().width_mm,
                    std::min(standing_top - kBlockGapMm, map_top + kMapHeightMm)};
  draw_map(page, map, cells, outlines, on_page.label);
}

}  // namespace potshadow

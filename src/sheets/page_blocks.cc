// SPDX-License-Identifier: MIT
#include "sheets/page_blocks.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "sheets/page_text.h"

namespace potshadow {
namespace {

constexpr double kBar100Mm = 100.0;
constexpr double kBar4InMm = 4.0 * kMmPerInch;
constexpr const char* kMeasure = "Measure this bar before cutting";

constexpr double kQuietGrey = 0.4;
constexpr double kRuleGrey = 0.7;
constexpr double kShadeGrey = 0.78;

constexpr double kNameSizeMm = 5.4;
constexpr double kTextSizeMm = 3.1;
constexpr double kFigureSizeMm = 3.2;
constexpr double kPlusMinusSizeMm = 2.6;
constexpr double kNoteSizeMm = 2.7;
constexpr double kNameLineMm = 8.0;
constexpr double kTextLineMm = 4.6;
constexpr double kRowMm = 5.2;
constexpr double kNoteLineMm = 3.9;
constexpr double kGroupGapMm = 2.6;
constexpr int kTitleLines = 4;
constexpr double kSentenceMm = 5.0;

std::vector<Drawn>& items(TemplatePage& page) {
  page.drawing.groups.push_back({});
  return page.drawing.groups.back().items;
}

void draw_bar(TemplatePage& page, PagePoint top_left, double length, bool standing) {
  const PageBox box = standing ? PageBox{top_left.x_mm, top_left.y_mm, top_left.x_mm + kBarThickMm,
                                         top_left.y_mm + length}
                               : PageBox{top_left.x_mm, top_left.y_mm, top_left.x_mm + length,
                                         top_left.y_mm + kBarThickMm};
  const bool metric = length == kBar100Mm;
  std::vector<Drawn>& out = items(page);
  out.push_back(filled(box, 0.0));
  // White marks along one side, every centimetre or inch; the ends stay whole.
  const double step = metric ? 10.0 : kMmPerInch;
  constexpr double kTickMm = 1.4;
  for (int i = 1; i * step < length - 0.5 * step; ++i) {
    const double at = i * step;
    out.push_back(standing ? line({box.right_mm - kTickMm, box.bottom_mm - at},
                                  {box.right_mm, box.bottom_mm - at}, 0.2, 1.0)
                           : line({box.left_mm + at, box.bottom_mm - kTickMm},
                                  {box.left_mm + at, box.bottom_mm}, 0.2, 1.0));
  }
  Label label{metric ? "100 mm" : "4 in", {}};
  label.size_mm = 4.0;
  label.bold = true;
  label.grey = 1.0;
  label.align = Align::kCentre;
  label.upwards = standing;
  constexpr double kBase = 4.2;  // from the bar's upper side to the letters' base line
  // Off the middle, where an inch mark stands.
  const double middle = (metric ? 0.55 : 0.625) * length;
  label.at = standing ? PagePoint{box.left_mm + kBase, box.bottom_mm - middle}
                      : PagePoint{box.left_mm + middle, box.top_mm + kBase};
  out.push_back(label);
  page.bars.push_back({box, length, standing});
}

void draw_lines(std::vector<Drawn>& out, const std::vector<std::string>& lines, double x, double& y,
                double grey) {
  for (const std::string& words : lines) {
    Label label = sized_text(words, kNoteSizeMm, {x, y + 0.75 * kNoteLineMm}, kWordsWidthMm);
    label.grey = grey;
    out.push_back(label);
    y += kNoteLineMm;
  }
}

std::string page_text(const PageWords& on_page) {
  std::string words =
      "Page " + std::to_string(on_page.number) + " of " + std::to_string(on_page.count);
  if (!on_page.label.empty()) words = "Sheet " + on_page.label + ", p" + words.substr(1);
  return words;
}

}  // namespace

std::string page_line(const TemplateWords& words, const PageWords& on_page) {
  const std::string line = page_text(on_page) + " · " + words.paper;
  return words.date.empty() ? line : line + " · " + words.date;
}

// "Lay on A1 (a, b) and B1 (c, d)", or nothing for a sheet that others are laid on.
std::string joins_text(const PageWords& on_page) {
  std::string words;
  for (const std::string& join : on_page.joins) {
    words += (words.empty() ? "Lay this sheet on " : " and on ") + join;
  }
  return words;
}

BlockSize lying_bars_size() { return {kBar4InMm, 2.0 * kBarThickMm + kBarGapMm}; }
BlockSize standing_bars_size() { return {2.0 * kBarThickMm + kBarGapMm, kBar4InMm}; }

BlockSize lying_bars_with_words_size() {
  return {kBar4InMm, lying_bars_size().height_mm + 2.0 * kSentenceMm};
}

BlockSize title_size(const TemplateWords& words, bool split) {
  const int lines = kTitleLines + (words.scale.empty() ? 0 : 1) + (words.printer.empty() ? 0 : 1) +
                    (split ? 1 : 0);
  return {kWordsWidthMm, kNameLineMm + lines * kTextLineMm};
}

BlockSize table_size(const TemplateWords& words) {
  if (words.sizes.empty()) return {kWordsWidthMm, 0.0};
  return {kWordsWidthMm, static_cast<double>(words.sizes.size() + 1) * kRowMm};
}

BlockSize notes_size(const TemplateWords& words, bool split) {
  std::size_t lines = words.using_it.size() + words.cautions.size();
  double gaps = kGroupGapMm;
  if (split) {
    lines += words.joining.size();
    gaps += kGroupGapMm;
  }
  return {kWordsWidthMm, static_cast<double>(lines) * kNoteLineMm + gaps};
}

void draw_lying_bars(TemplatePage& page, PagePoint top_left) {
  draw_bar(page, top_left, kBar100Mm, false);
  draw_bar(page, {top_left.x_mm, top_left.y_mm + kBarThickMm + kBarGapMm}, kBar4InMm, false);
}

void draw_standing_bars(TemplatePage& page, PagePoint top_left) {
  draw_bar(page, top_left, kBar4InMm, true);
  draw_bar(page, {top_left.x_mm + kBarThickMm + kBarGapMm, top_left.y_mm + (kBar4InMm - kBar100Mm)},
           kBar100Mm, true);
}

void draw_lying_bars_with_words(TemplatePage& page, PagePoint top_left) {
  const double width = lying_bars_size().width_mm;
  std::vector<Drawn>& out = items(page);
  Label sentence = sized_text(kMeasure, 3.6, {top_left.x_mm, top_left.y_mm + 3.2}, width);
  sentence.bold = true;
  out.push_back(sentence);
  out.push_back(sized_text(
      "Not 100 mm and 4 in? Print again at actual size, without fitting to the page.", kNoteSizeMm,
      {top_left.x_mm, top_left.y_mm + lying_bars_with_words_size().height_mm - 0.9}, width));
  draw_lying_bars(page, {top_left.x_mm, top_left.y_mm + kSentenceMm});
}

void draw_title(TemplatePage& page, PagePoint top_left, double width_mm, const TemplateWords& words,
                const PageWords& on_page) {
  std::vector<Drawn>& out = items(page);
  const double x = top_left.x_mm;
  double y = top_left.y_mm + kNameLineMm;
  Label name = sized_text(words.name, kNameSizeMm, {x, y - 2.8}, width_mm);
  name.bold = true;
  out.push_back(name);
  const auto add = [&](const std::string& line, double grey, bool bold = false) {
    y += kTextLineMm;
    Label label = sized_text(line, kTextSizeMm, {x, y - 1.3}, width_mm);
    label.grey = grey;
    label.bold = bold;
    out.push_back(label);
  };
  add("Profile template at " + words.stage + " size, scale 1:1", 0.0);
  if (!words.scale.empty()) add(words.scale, 0.0, true);
  add(words.clay, 0.0);
  add(words.shrinkage, 0.0);
  add(page_line(words, on_page), kQuietGrey);
  if (!words.printer.empty()) add(words.printer, kQuietGrey);
  const std::string joins = joins_text(on_page);
  if (!joins.empty()) add(joins, kQuietGrey);
}

void draw_table(TemplatePage& page, PagePoint top_left, const TemplateWords& words) {
  if (words.sizes.empty()) return;
  const bool inches = words.unit == "in";
  std::vector<Drawn>& out = items(page);
  const double left = top_left.x_mm;
  const double right = left + kWordsWidthMm;
  // Where values end and their ± begin.
  const double fired_x = left + (inches ? 42.5 : 46.5);
  const double wet_x = left + (inches ? 62.0 : 71.0);
  constexpr double kPlusMinusGapMm = 0.9;
  double y = top_left.y_mm + kRowMm;
  const auto head = [&](const std::string& title, double end) {
    Label label = sized_text(title, kNoteSizeMm, {end, y - 1.6}, 24.0);
    label.align = Align::kRight;
    label.grey = kQuietGrey;
    out.push_back(label);
  };
  head("fired, " + words.unit, fired_x);
  head(words.stage + ", " + words.unit, wet_x);
  if (inches) head("to 1/16", right);
  out.push_back(line({left, y}, {right, y}, 0.25, kRuleGrey));

  const auto figure = [&](const std::string& value, double end, const std::string& pm, bool bold) {
    Label label = sized_text(value, kFigureSizeMm, {end, y - 1.5}, 24.0);
    label.align = Align::kRight;
    label.tabular = true;
    label.bold = bold;
    out.push_back(label);
    Label quiet = sized_text(pm, kPlusMinusSizeMm, {end + kPlusMinusGapMm, y - 1.5}, 14.0);
    quiet.grey = kQuietGrey;
    quiet.tabular = true;
    out.push_back(quiet);
  };
  for (const SizeWords& row : words.sizes) {
    y += kRowMm;
    const double room = (inches ? 33.0 : 36.0);
    out.push_back(sized_text(row.words, inches ? kPlusMinusSizeMm : 3.0, {left, y - 1.5}, room));
    figure(row.fired, fired_x, row.fired_pm, false);
    figure(row.wet, wet_x, row.wet_pm, true);
    if (!row.sixteenth.empty()) {
      Label label = sized_text(row.sixteenth, 2.9, {right, y - 1.5}, 13.0);
      label.align = Align::kRight;
      out.push_back(label);
    }
    out.push_back(line({left, y}, {right, y}, 0.1, kRuleGrey));
  }
}

void draw_notes(TemplatePage& page, PagePoint top_left, const TemplateWords& words, bool split) {
  std::vector<Drawn>& out = items(page);
  double y = top_left.y_mm;
  draw_lines(out, words.using_it, top_left.x_mm, y, 0.0);
  y += kGroupGapMm;
  if (split) {
    draw_lines(out, words.joining, top_left.x_mm, y, 0.0);
    y += kGroupGapMm;
  }
  draw_lines(out, words.cautions, top_left.x_mm, y, kQuietGrey);
}

void draw_map(TemplatePage& page, const PageBox& box, const std::vector<MapCell>& cells,
              const std::vector<std::vector<ProfilePoint>>& outlines, const std::string& present) {
  double left = cells.front().left_mm;
  double right = cells.front().right_mm;
  double bottom = cells.front().bottom_mm;
  double top = cells.front().top_mm;
  for (const MapCell& cell : cells) {
    left = std::min(left, cell.left_mm);
    right = std::max(right, cell.right_mm);
    bottom = std::min(bottom, cell.bottom_mm);
    top = std::max(top, cell.top_mm);
  }
  const double scale = std::min(box.width() / (right - left), box.height() / (top - bottom));
  const auto at = [&](double radius, double height) {
    return PagePoint{box.right_mm - scale * (right - radius), box.top_mm + scale * (top - height)};
  };
  std::vector<Drawn>& out = items(page);
  const auto cell_box = [&](const MapCell& cell) {
    const PagePoint low = at(cell.left_mm, cell.bottom_mm);
    const PagePoint high = at(cell.right_mm, cell.top_mm);
    return PageBox{low.x_mm, high.y_mm, high.x_mm, low.y_mm};
  };
  for (const MapCell& cell : cells) {
    if (cell.label == present) out.push_back(filled(cell_box(cell), kShadeGrey));
  }
  for (const std::vector<ProfilePoint>& outline : outlines) {
    std::vector<PagePoint> small;
    small.reserve(outline.size());
    for (const ProfilePoint& p : outline) small.push_back(at(p.radius_mm, p.height_mm));
    out.push_back(Stroke{std::move(small), 0.25, 0.0, true});
  }
  for (const MapCell& cell : cells) {
    const PageBox small = cell_box(cell);
    out.push_back(outlined(small, 0.12, kQuietGrey));
    Label label{cell.label, {(small.left_mm + small.right_mm) / 2.0, 0.0}};
    label.size_mm = std::min({2.6, 0.6 * small.height(), 0.45 * small.width()});
    label.at.y_mm = (small.top_mm + small.bottom_mm) / 2.0 + 0.36 * label.size_mm;
    label.align = Align::kCentre;
    label.bold = cell.label == present;
    constexpr double kReadableMm = 0.9;
    if (label.size_mm < kReadableMm) continue;
    // The card's line gives way to the label.
    const double half = 0.75 * label.size_mm;
    out.push_back(filled({label.at.x_mm - half, label.at.y_mm - label.size_mm, label.at.x_mm + half,
                          label.at.y_mm + 0.3 * label.size_mm},
                         cell.label == present ? kShadeGrey : 1.0));
    out.push_back(label);
  }
}

void draw_foot_words(TemplatePage& page, const PageBox& box, const TemplateWords& words,
                     const PageWords& on_page) {
  std::vector<Drawn>& out = items(page);
  double y = box.top_mm;
  const auto add = [&](const std::string& line, double size, bool bold, double grey) {
    y += 3.75;
    Label label = sized_text(line, size, {box.left_mm, y - 0.9}, box.width());
    label.bold = bold;
    label.grey = grey;
    out.push_back(label);
  };
  add(kMeasure, 3.1, true, 0.0);
  const std::string paged = page_line(words, on_page);
  // There is room for four lines.
  if (words.scale.empty()) {
    add(words.along_card, kNoteSizeMm, false, 0.0);
    add(paged, kNoteSizeMm, false, 0.0);
  } else {
    add(words.scale, kNoteSizeMm, true, 0.0);
    add(paged + " · " + words.along_card, kNoteSizeMm, false, 0.0);
  }
  add(joins_text(on_page), kNoteSizeMm, false, kQuietGrey);
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "project/compare_sheet.h"

#include <algorithm>
#include <array>
#include <utility>

#include "patterns/comparison.h"
#include "project/text_layout.h"

namespace potshadow {

using namespace internal;
namespace {

constexpr double kTextMm = 2.8;
constexpr double kRowMm = 4.6;
// Of the room that an upright page of A4 or Letter leaves.
constexpr double kDrawingWidthMm = 165.0;
constexpr double kDrawingHeightMm = 105.0;

// Broken at spaces into lines of about as many letters.
std::vector<std::string> broken(const std::string& text, std::size_t letters) {
  std::vector<std::string> lines(1);
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t space = std::min(text.find(' ', from), text.size());
    const std::string word = text.substr(from, space - from);
    if (!lines.back().empty() && display_width(lines.back() + " " + word) > letters) {
      lines.emplace_back();
    }
    lines.back() += (lines.back().empty() ? "" : " ") + word;
    from = space + 1;
  }
  return lines;
}

Pattern text_piece(const VesselComparison& c, LengthUnit unit) {
  constexpr std::size_t kLetters = 108;
  Pattern piece;
  piece.name = "In words";
  double y = 0.0;
  const auto write = [&](const std::string& words, bool bold) {
    add_text(piece, words, {0.0, y}, kTextMm).bold = bold;
    y -= kRowMm;
  };
  for (const std::string& line : broken(comparison_paragraph(c, unit), kLetters)) {
    write(line, false);
  }
  for (const Note& note : c.notes) {
    for (const std::string& line : broken("! " + note.text, kLetters)) write(line, note.doubtful);
  }
  add_line(piece, {0.0, kTextMm}, {kDrawingWidthMm, kTextMm}, PatternLine::kFaint);
  return piece;
}

Pattern table_piece(const VesselComparison& c, LengthUnit unit) {
  constexpr std::array<double, 4> kRightMm = {70.0, 95.0, 121.0, 124.0};  // the last begins there
  Pattern piece;
  piece.name = "Sizes";
  double y = 0.0;
  const auto row = [&](const std::array<std::string, 5>& cells, bool head) {
    add_text(piece, cells[0], {0.0, y}, kTextMm).bold = head;
    for (std::size_t i = 1; i < cells.size(); ++i) {
      PatternText& text = add_text(piece, cells[i], {kRightMm[i - 1], y}, kTextMm);
      text.align = i < 4 ? PatternAlign::kRight : PatternAlign::kLeft;
      text.bold = head;
    }
    add_line(piece, {0.0, y - 1.4}, {kDrawingWidthMm, y - 1.4}, PatternLine::kFaint);
    y -= kRowMm;
  };
  const std::string name(unit_name(unit));
  row({"Fired size, " + name, "original", "replica", "difference", ""}, true);
  for (const ComparedSize& size : c.sizes) {
    const SizeDifference& d = size.difference;
    const bool volume = size.name == SizeName::kCapacity;
    const auto words = [&](const Measured& m) {
      return words_of(volume ? volume_figure(m) : length_figure(m, unit));
    };
    row({std::string(size_words(size.name)) + (volume ? ", ml" : ""), words(d.original),
         words(d.replica), words(d.difference), std::string(comparison_words(d.verdict))},
        false);
  }
  for (const ComparedProportion& p : c.proportions) {
    const SizeDifference& d = p.difference;
    constexpr int kDecimals = 3;
    const auto words = [&](const Measured& m) { return words_of(figure(m, kDecimals)); };
    row({p.words, words(d.original), words(d.replica), words(d.difference),
         std::string(comparison_words(d.verdict))},
        false);
  }
  return piece;
}

}  // namespace

std::optional<Pattern> comparison_drawing(const VesselComparison& comparison, double most_width_mm,
                                          double most_height_mm, double& scale) {
  if (!comparison.shape || comparison.original_rows.size() < 2) return std::nullopt;
  const ShapeDifference& shape = *comparison.shape;
  ComparedOutlines outlines{
      comparison.original_rows, comparison.replica_rows, {}, shape.scale.value, {}};
  double height = 0.0;
  for (const GapRow& row : shape.scaled) {
    outlines.matched.push_back(row.at);
    const Measured& gap = row.gap_mm;
    outlines.gaps.push_back({row.at.height_mm, gap.value, (gap.high95 - gap.low95) / 2.0,
                             row.together_mm, row.differs});
    height = std::max(height, row.at.height_mm);
  }
  for (const ProfilePoint& p : outlines.original) height = std::max(height, p.height_mm);
  constexpr std::array<double, 8> kScales{1.0,       1.0 / 2.0, 1.0 / 3.0, 1.0 / 4.0,
                                          1.0 / 5.0, 0.1,       0.05,      0.02};
  const auto fits = [&](double at) {
    return compared_width_mm(outlines, at) <= most_width_mm && height * at <= most_height_mm;
  };
  const auto found = std::find_if(kScales.begin(), kScales.end(), fits);
  scale = found == kScales.end() ? kScales.back() : *found;
  return compared_outlines(outlines, scale);
}

PatternSheet comparison_sheet(const VesselComparison& comparison, LengthUnit unit,
                              std::vector<Pattern> more) {
  PatternSheet sheet;
  sheet.title = "Replica and original";
  sheet.size_words = "fired size";
  double scale = 1.0;
  std::optional<Pattern> drawing =
      comparison_drawing(comparison, kDrawingWidthMm, kDrawingHeightMm, scale);
  sheet.scale = drawing ? "1:" + fixed_text(1.0 / scale, 0) : "";
  sheet.how = {"Solid: " + comparison.original + ". Dashed: " + comparison.replica +
                   ". Grey: the gap's 95 % interval; between the faint lines all heights together.",
               "Heavy: where the shapes differ beyond doubt. The drawing is not for cutting."};
  sheet.pieces.push_back(text_piece(comparison, unit));
  if (drawing) sheet.pieces.push_back(*std::move(drawing));
  if (!comparison.sizes.empty() || !comparison.proportions.empty()) {
    sheet.pieces.push_back(table_piece(comparison, unit));
  }
  for (Pattern& piece : more) sheet.pieces.push_back(std::move(piece));
  return sheet;
}

}  // namespace potshadow

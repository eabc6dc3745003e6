// SPDX-License-Identifier: MIT
#include "project/sheet_words.h"

#include <algorithm>

#include "core/text.h"

namespace potshadow::internal {
namespace {

constexpr double kTextMm = 2.8;
constexpr double kRowMm = 4.6;
constexpr std::size_t kLetters = 108;  // in a line

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

}  // namespace

Pattern paragraphs_piece(const std::string& name, const std::vector<SheetParagraph>& paragraphs) {
  Pattern piece;
  piece.name = name;
  double y = 0.0;
  for (const SheetParagraph& paragraph : paragraphs) {
    for (const std::string& line : broken(paragraph.text, kLetters)) {
      add_text(piece, line, {0.0, y}, kTextMm).bold = paragraph.bold;
      y -= kRowMm;
    }
  }
  add_line(piece, {0.0, kTextMm}, {kSheetWidthMm, kTextMm}, PatternLine::kFaint);
  return piece;
}

Pattern table_piece(const std::string& name, const std::vector<SheetColumn>& columns,
                    const std::vector<std::vector<std::string>>& rows) {
  constexpr double kBelowMm = 1.4;
  Pattern piece;
  piece.name = name;
  double y = 0.0;
  for (const std::vector<std::string>& cells : rows) {
    for (std::size_t i = 0; i < columns.size() && i < cells.size(); ++i) {
      PatternText& text = add_text(piece, cells[i], {columns[i].at_mm, y}, kTextMm);
      text.align = columns[i].right ? PatternAlign::kRight : PatternAlign::kLeft;
      text.bold = y == 0.0;
    }
    add_line(piece, {0.0, y - kBelowMm}, {kSheetWidthMm, y - kBelowMm}, PatternLine::kFaint);
    y -= kRowMm;
  }
  return piece;
}

Result<TemplateRequest> sheet_facts(const std::string& title, const SheetChoices& choices,
                                    std::chrono::system_clock::time_point now) {
  const Result<TotalShrinkage> none = TotalShrinkage::from_percent_of_wet(0.0, 0.0);
  if (!none) return none.problem();
  // A sheet of patterns looks at no profile of its facts; there must be one all the same.
  const Result<Profile> unused = Profile::from_controls({{1, 0}, {1, 1}, {1, 2}, {1, 3}});
  if (!unused) return unused.problem();
  return TemplateRequest{.vessel_name = title,
                         .fired_profile = *unused,
                         .band = {},
                         .sizes = {},
                         .clay_name = {},
                         .shrinkage = *none,
                         .paper = choices.paper,
                         .date_line = day_in_words(now),
                         .created_iso = iso_date(now),
                         .unit = choices.unit,
                         .stage = Stage::kFired};
}

}  // namespace potshadow::internal

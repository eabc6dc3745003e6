// SPDX-License-Identifier: MIT
#include "sheets/board_sheet.h"

#include <array>
#include <utility>
#include <vector>

#include "core/text.h"
#include "sheets/page_blocks.h"
#include "sheets/sheet_pdf.h"

namespace potshadow {
namespace {

void draw_squares(const PageBox& board, std::vector<Drawn>& out) {
  for (int row = 0; row <= kBoardRows; ++row) {
    for (int column = 0; column <= kBoardColumns; ++column) {
      if ((row + column) % 2 != 0) continue;
      const double left = board.left_mm + column * kBoardSquareMm;
      const double top = board.top_mm + row * kBoardSquareMm;
      out.push_back(filled({left, top, left + kBoardSquareMm, top + kBoardSquareMm}, 0.0));
    }
  }
}

void draw_words(PagePoint top_left, double width_mm, std::vector<Drawn>& out) {
  constexpr double kTitleSizeMm = 3.4;
  constexpr double kLineSizeMm = 2.7;
  constexpr double kLineMm = 3.7;
  const std::string squares = fixed_text(kBoardSquareMm, 0);
  const std::array<std::string, 4> lines{
      "Camera board: squares of " + squares + " mm",
      "Print at 100 %, measure the bars, and stick the page flat on glass or a stiff board.",
      "Take 10 to 20 sharp pictures with the zoom you use for pots, camera the same way up each "
      "time.",
      "Fill the picture with the board, its corners too; tilt it by 30 to 45° to every side."};
  double y = top_left.y_mm + kTitleSizeMm - 0.6;
  for (const std::string& words : lines) {
    Label label{words, {top_left.x_mm, y}};
    label.size_mm = y < top_left.y_mm + kLineMm ? kTitleSizeMm : kLineSizeMm;
    label.bold = y < top_left.y_mm + kLineMm;
    label.most_width_mm = width_mm;
    out.push_back(label);
    y += kLineMm;
  }
}

}  // namespace

BoardLayout board_layout(Paper paper) {
  const PaperSize upright = paper_size(paper);
  const PaperSize size{upright.height_mm, upright.width_mm};  // the page lies
  BoardLayout layout;
  layout.page.drawing.width_mm = size.width_mm;
  layout.page.drawing.height_mm = size.height_mm;
  const double width = (kBoardColumns + 1) * kBoardSquareMm;
  const double height = (kBoardRows + 1) * kBoardSquareMm;
  const double left = (size.width_mm - width) / 2.0;
  layout.board = {left, kPageMarginMm, left + width, kPageMarginMm + height};
  std::vector<Drawn> squares;
  draw_squares(layout.board, squares);
  layout.page.drawing.groups.push_back({std::nullopt, std::move(squares)});

  // Bars and words stand at the foot, as far from the squares as the paper lets them.
  const BlockSize bars = lying_bars_size();
  const double top = size.height_mm - kPageMarginMm - bars.height_mm;
  draw_lying_bars(layout.page, {left, top});
  const double words_left = left + bars.width_mm + kBlockGapMm;
  std::vector<Drawn> words;
  draw_words({words_left, top}, size.width_mm - kPageMarginMm - words_left, words);
  layout.page.drawing.groups.push_back({std::nullopt, std::move(words)});
  return layout;
}

Result<SheetPdf> board_sheet(const BoardSheetRequest& request) {
  return one_page_pdf("Potshadow camera board", board_layout(request.paper).page.drawing,
                      request.created_iso);
}

}  // namespace potshadow

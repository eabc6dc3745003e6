// SPDX-License-Identifier: MIT
#include "sheets/board_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <variant>
#include <vector>

#include "outline/board.h"
#include "sheets/page_picture.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::StartsWith;

constexpr std::array kPapers{Paper::kA4, Paper::kLetter};

TEST(BoardSheet, SquaresHaveTheirSizeAndStandWithinTheMargins) {
  constexpr double kRoundingMm = 1e-9;
  int papers = 0;
  for (const Paper paper : kPapers) {
    const BoardLayout layout = board_layout(paper);
    EXPECT_NEAR(layout.board.width(), 240.0, kRoundingMm);
    EXPECT_NEAR(layout.board.height(), 168.0, kRoundingMm);
    const PageDrawing& drawing = layout.page.drawing;
    EXPECT_GT(drawing.width_mm, drawing.height_mm);
    int black = 0;
    for (const Drawn& drawn : drawing.groups.front().items) {
      const auto* square = std::get_if<Area>(&drawn);
      ASSERT_NE(square, nullptr);
      ASSERT_EQ(square->points.size(), 4U);
      const auto [left, right] =
          std::minmax_element(square->points.begin(), square->points.end(),
                              [](const auto& a, const auto& b) { return a.x_mm < b.x_mm; });
      const auto [top, bottom] =
          std::minmax_element(square->points.begin(), square->points.end(),
                              [](const auto& a, const auto& b) { return a.y_mm < b.y_mm; });
      EXPECT_NEAR(right->x_mm - left->x_mm, kBoardSquareMm, kRoundingMm);
      EXPECT_NEAR(bottom->y_mm - top->y_mm, kBoardSquareMm, kRoundingMm);
      EXPECT_GE(left->x_mm, kPageMarginMm);
      EXPECT_LE(right->x_mm, drawing.width_mm - kPageMarginMm);
      EXPECT_GE(top->y_mm, kPageMarginMm - kRoundingMm);
      ++black;
    }
    EXPECT_EQ(black, 35);  // half of ten by seven
    ASSERT_EQ(layout.page.bars.size(), 2U);
    for (const CheckBar& bar : layout.page.bars) {
      EXPECT_NEAR(bar.box.width(), bar.length_mm, kRoundingMm);
      EXPECT_LE(bar.box.bottom_mm, drawing.height_mm - kPageMarginMm + kRoundingMm);
      EXPECT_GT(bar.box.top_mm, layout.board.bottom_mm);
    }
    ++papers;
  }
  EXPECT_EQ(papers, 2);
}

// The page as it is printed, with a darker table around it.
Picture picture_of(const BoardLayout& layout, double px_per_mm) {
  const auto pixels = page_picture(layout.page.drawing, px_per_mm);
  Picture picture;
  if (!pixels) return picture;
  cv::Mat page(pixels->height_px, pixels->width_px, CV_8UC4);
  std::copy(pixels->bytes.begin(), pixels->bytes.end(), page.data);
  cv::cvtColor(page, picture.bgr, cv::COLOR_BGRA2BGR);
  cv::copyMakeBorder(picture.bgr, picture.bgr, 100, 100, 100, 100, cv::BORDER_CONSTANT,
                     cv::Scalar::all(90));
  return picture;
}

TEST(BoardSheet, ThePrintedBoardIsFoundWhereItWasDrawn) {
  constexpr double kScale = 4.0;  // pixels a millimetre
  constexpr double kTenthPx = 0.1;
  int papers = 0;
  for (const Paper paper : kPapers) {
    const BoardLayout layout = board_layout(paper);
    auto corners = find_board(picture_of(layout, kScale), kBoardColumns, kBoardRows);
    ASSERT_TRUE(corners.ok());
    std::vector<PhotoPoint> found = *corners;
    ASSERT_EQ(found.size(), 54U);
    if (found.front().y_px > found.back().y_px) std::reverse(found.begin(), found.end());
    for (int row = 0; row < kBoardRows; ++row) {
      for (int column = 0; column < kBoardColumns; ++column) {
        const PhotoPoint& at = found[static_cast<std::size_t>(row * kBoardColumns + column)];
        const double x = layout.board.left_mm + (column + 1) * kBoardSquareMm;
        const double y = layout.board.top_mm + (row + 1) * kBoardSquareMm;
        EXPECT_NEAR(at.x_px, 100.0 + kScale * x - 0.5, kTenthPx);
        EXPECT_NEAR(at.y_px, 100.0 + kScale * y - 0.5, kTenthPx);
      }
    }
    ++papers;
  }
  EXPECT_EQ(papers, 2);
}

TEST(BoardSheet, IsAPdfOfOnePageAndTheSameEachTime) {
  const auto pdf = board_sheet({Paper::kA4, "2026-11-25"});
  ASSERT_TRUE(pdf.ok());
  EXPECT_EQ(pdf->pages, 1);
  EXPECT_THAT(pdf->bytes, StartsWith("%PDF-"));
  EXPECT_THAT(pdf->bytes, HasSubstr("/MediaBox [ 0 0 841.889764 595.275591 ]"));
  const auto again = board_sheet({Paper::kA4, "2026-11-25"});
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(again->bytes, pdf->bytes);
  const auto wrong = board_sheet({Paper::kA4, "yesterday"});
  ASSERT_FALSE(wrong.ok());
  EXPECT_EQ(wrong.problem().code, Code::kBadValue);
}

}  // namespace
}  // namespace potshadow

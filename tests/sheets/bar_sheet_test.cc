// SPDX-License-Identifier: MIT
#include "sheets/bar_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <string>

#include "core/temporary_folder.h"
#include "raster.h"
#include "within_margins.h"

namespace potshadow {
namespace {

constexpr std::array kPapers{Paper::kA4, Paper::kLetter};

// What the printed page promises.
constexpr double kPaperMm = 0.1;

TEST(BarSheet, MarksStandAHundredMillimetresApartWithinTheBar) {
  constexpr double kRoundingMm = 1e-9;
  int papers = 0;
  for (const Paper paper : kPapers) {
    const BarSheetLayout layout = bar_sheet_layout(paper);
    EXPECT_NEAR(layout.right_mark_mm - layout.left_mark_mm, 100.0, kRoundingMm);
    EXPECT_GT(layout.left_mark_mm, layout.bar.left_mm);
    EXPECT_LT(layout.right_mark_mm, layout.bar.right_mm);
    ASSERT_EQ(layout.page.bars.size(), 2U);
    ++papers;
  }
  EXPECT_EQ(papers, 2);
}

TEST(BarSheet, NothingLiesOutsideTheMargins) {
  int papers = 0;
  for (const Paper paper : kPapers) {
    EXPECT_GT(test::expect_within_margins(bar_sheet_layout(paper).page.drawing), 100);
    ++papers;
  }
  EXPECT_EQ(papers, 2);
}

// As an ordinary PDF renderer prints it.
TEST(BarSheet, ThePrintedMarksAndBarsHaveTheirLength) {
  const TemporaryFolder folder;
  int papers = 0;
  for (const Paper paper : kPapers) {
    const auto pdf = bar_sheet({paper, "2026-11-25"});
    ASSERT_TRUE(pdf.ok());
    EXPECT_EQ(pdf->pages, 1);
    const auto file = folder.path() / "sheet.pdf";
    std::ofstream(file, std::ios::binary) << pdf->bytes;
    const test::Raster page = test::rasterised_page(file, 1);
    const BarSheetLayout layout = bar_sheet_layout(paper);
    constexpr double kSearchMm = 1.2;
    // Beside the bar, where nothing else is drawn.
    const double y = layout.bar.top_mm - 2.0;
    const auto left = test::line_near(page, {layout.left_mark_mm, y}, kSearchMm, false);
    const auto right = test::line_near(page, {layout.right_mark_mm, y}, kSearchMm, false);
    ASSERT_TRUE(left && right);
    EXPECT_NEAR(*right - *left, 100.0, kPaperMm);
    int bars = 0;
    for (const CheckBar& bar : layout.page.bars) {
      const PagePoint at{bar.box.left_mm + 3.0, bar.box.top_mm + 0.6};
      EXPECT_NEAR(test::run_through(page, at, false), bar.length_mm, kPaperMm);
      ++bars;
    }
    EXPECT_EQ(bars, 2);
    ++papers;
  }
  EXPECT_EQ(papers, 2);
}

TEST(BarSheet, IsTheSameEachTimeAndNeedsADate) {
  const auto pdf = bar_sheet({Paper::kA4, "2026-11-25"});
  const auto again = bar_sheet({Paper::kA4, "2026-11-25"});
  ASSERT_TRUE(pdf.ok() && again.ok());
  EXPECT_EQ(pdf->bytes, again->bytes);
  const auto wrong = bar_sheet({Paper::kA4, "yesterday"});
  ASSERT_FALSE(wrong.ok());
  EXPECT_EQ(wrong.problem().code, Code::kBadValue);
}

}  // namespace
}  // namespace potshadow

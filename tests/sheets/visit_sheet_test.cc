// SPDX-License-Identifier: MIT
#include "sheets/visit_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "core/temporary_folder.h"
#include "raster.h"
#include "within_margins.h"

namespace potshadow {
namespace {

using testing::HasSubstr;
using testing::Not;

std::filesystem::path written(const TemporaryFolder& folder, Paper paper) {
  const auto pdf = visit_sheet({paper, "2026-11-25"});
  EXPECT_TRUE(pdf.ok());
  EXPECT_EQ(pdf->pages, 1);
  const auto file = folder.path() / "visit.pdf";
  std::ofstream(file, std::ios::binary) << pdf->bytes;
  return file;
}

TEST(VisitSheet, NothingLiesOutsideTheMarginsOrOnTheCard) {
  int papers = 0;
  for (const Paper paper : kPapers) {
    const VisitSheetLayout layout = visit_sheet_layout(paper);
    EXPECT_GT(test::expect_within_margins(layout.page.drawing), 100);
    ASSERT_EQ(layout.page.bars.size(), 2U);
    EXPECT_GT(layout.page.bars.front().box.top_mm, layout.card.bottom_mm);
    ++papers;
  }
  EXPECT_EQ(papers, 5);
}

// As an ordinary PDF renderer prints it.
TEST(VisitSheet, ThePrintedCardHasItsSize) {
  constexpr double kPaperMm = 0.1;  // what the printed page promises
  const TemporaryFolder folder;
  int papers = 0;
  for (const Paper paper : kPapers) {
    const PageBox card = visit_sheet_layout(paper).card;
    const test::Raster page = test::rasterised_page(written(folder, paper), 1);
    // Away from the words and from the black corners.
    const double y = card.top_mm + 15.0;
    const double x = card.left_mm + 20.0;
    constexpr double kSearchMm = 1.0;
    const auto left = test::line_near(page, {card.left_mm, y}, kSearchMm, false);
    const auto right = test::line_near(page, {card.right_mm, y}, kSearchMm, false);
    const auto top = test::line_near(page, {x, card.top_mm}, kSearchMm, true);
    const auto bottom = test::line_near(page, {x, card.bottom_mm}, kSearchMm, true);
    ASSERT_TRUE(left && right && top && bottom);
    EXPECT_NEAR(*right - *left, kVisitCardWidthMm, kPaperMm);
    EXPECT_NEAR(*bottom - *top, kVisitCardHeightMm, kPaperMm);
    ++papers;
  }
  EXPECT_EQ(papers, 5);
}

TEST(VisitSheet, NoLineIsCutShort) {
  const TemporaryFolder folder;
  int papers = 0;
  for (const Paper paper : kPapers) {
    const std::string file = written(folder, paper).string();
    ASSERT_EQ(std::system(("pdftotext -layout '" + file + "' '" + file + ".txt'").c_str()), 0);
    std::ifstream in(file + ".txt");
    const std::string text(std::istreambuf_iterator<char>(in), {});
    EXPECT_THAT(text, HasSubstr("No flash. Touch nothing."));
    EXPECT_THAT(text, HasSubstr("what you would bet."));
    EXPECT_THAT(text, HasSubstr("90 × 60 mm"));
    EXPECT_THAT(text, Not(HasSubstr("…")));
    ++papers;
  }
  EXPECT_EQ(papers, 5);
}

TEST(VisitSheet, NeedsADate) {
  const auto wrong = visit_sheet({Paper::kA4, "yesterday"});
  ASSERT_FALSE(wrong.ok());
  EXPECT_EQ(wrong.problem().code, Code::kBadValue);
}

}  // namespace
}  // namespace potshadow

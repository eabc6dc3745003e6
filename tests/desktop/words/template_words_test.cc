// SPDX-License-Identifier: MIT
#include "desktop/words/template_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "desktop/words/file_names.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

// ISO 216: A4 is 210 by 297 mm. ANSI/ASME Y14.1: size A, letter, is 8.5 by 11 in.
TEST(PaperName, GivesTheSize) {
  EXPECT_EQ(paper_name(Paper::kA4), "A4 (210 × 297 mm)");
  EXPECT_EQ(paper_name(Paper::kLetter), "Letter (8½ × 11 in)");
}

TEST(PageWords, SayWhatIsOnThePage) {
  EXPECT_EQ(page_words(1, 5, "Ring gauges"), "Page 2 of 5: Ring gauges");
  EXPECT_EQ(place_words("Ring gauges", "", ""), "Ring gauges");
  EXPECT_EQ(place_words("Ring gauges", "Ring for the neck", "A2"),
            "Ring gauges, ring for the neck, part A2");
  EXPECT_EQ(place_words("Profile gauge", "Profile gauge", "B1"), "Profile gauge, part B1");
}

TEST(PrintingAdvice, BeginsWithTheScale) {
  const std::vector<std::string> one = printing_advice(1);
  ASSERT_EQ(one.size(), 3U);
  EXPECT_EQ(one[0], "Print at 100 %, not fitted to the page.");
  EXPECT_THAT(one[1], HasSubstr("ruler on the check bars in both directions"));
  const std::vector<std::string> many = printing_advice(3);
  ASSERT_EQ(many.size(), 4U);
  EXPECT_THAT(many[2], HasSubstr("dotted line"));
}

TEST(SheetFileName, IsSafe) {
  const auto named = [](std::string_view vessel) {
    return sheet_file_name(vessel, "Ring gauges", ".pdf");
  };
  EXPECT_EQ(named("Shelf jar"), "Shelf jar ring gauges.pdf");
  EXPECT_EQ(sheet_file_name("Shelf jar", "Painting, laid flat", ".png"),
            "Shelf jar painting, laid flat.png");
  EXPECT_EQ(bench_sheet_file_name("Shelf jar"), "Shelf jar bench sheet.pdf");
  EXPECT_EQ(bench_sheet_file_name(" ."), "Bench sheet.pdf");
  EXPECT_EQ(named("Jar 3/14: \"tall\""), "Jar 3 14   tall ring gauges.pdf");
  EXPECT_EQ(named("../hidden"), "hidden ring gauges.pdf");
  EXPECT_EQ(named("Krug für Öl"), "Krug für Öl ring gauges.pdf");
  EXPECT_EQ(named(""), "Ring gauges.pdf");
  EXPECT_EQ(named(" . "), "Ring gauges.pdf");
  // Cut between letters, never inside one: "ö" takes two bytes.
  std::string odd = "x";
  for (int i = 0; i < 200; ++i) odd += "ö";
  EXPECT_EQ(named(odd).size(), 119U + std::string(" ring gauges.pdf").size());
}

}  // namespace
}  // namespace potshadow

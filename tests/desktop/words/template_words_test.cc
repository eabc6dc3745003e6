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
  EXPECT_EQ(page_words(0, 1), "Page 1 of 1: the whole card, the sizes and the check bars");
  EXPECT_EQ(page_words(0, 5), "Page 1 of 5: the sizes, how to use the card, and check bars");
  EXPECT_EQ(page_words(1, 5), "Page 2 of 5: a part of the card, with check bars");
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

TEST(TemplateFileName, IsSafe) {
  EXPECT_EQ(template_file_name("Shelf jar"), "Shelf jar template.pdf");
  EXPECT_EQ(bench_sheet_file_name("Shelf jar"), "Shelf jar bench sheet.pdf");
  EXPECT_EQ(bench_sheet_file_name(" ."), "Bench sheet.pdf");
  EXPECT_EQ(template_file_name("Jar 3/14: \"tall\""), "Jar 3 14   tall template.pdf");
  EXPECT_EQ(template_file_name("../hidden"), "hidden template.pdf");
  EXPECT_EQ(template_file_name("Krug für Öl"), "Krug für Öl template.pdf");
  EXPECT_EQ(template_file_name(""), "Template.pdf");
  EXPECT_EQ(template_file_name(" . "), "Template.pdf");
  // Cut between letters, never inside one: "ö" takes two bytes.
  std::string odd = "x";
  for (int i = 0; i < 200; ++i) odd += "ö";
  const std::string name = template_file_name(odd);
  EXPECT_EQ(name.size(), 119U + std::string(" template.pdf").size());
}

}  // namespace
}  // namespace potshadow

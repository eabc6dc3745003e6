// SPDX-License-Identifier: MIT
#include "desktop/words/print_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

namespace potshadow {
namespace {

using testing::HasSubstr;

TEST(PrintWords, EveryThingHasANameANoteAndFiles) {
  std::set<std::string_view> titles;
  std::set<std::string_view> words;
  for (const Printed printed : kPrinted) {
    titles.insert(printed_title(printed));
    words.insert(printed_word(printed));
    EXPECT_TRUE(printed_note(printed).ends_with('.')) << printed_title(printed);
    EXPECT_FALSE(formats_of(printed).empty()) << printed_title(printed);
  }
  EXPECT_EQ(titles.size(), kPrinted.size());
  EXPECT_EQ(words.size(), kPrinted.size());
}

TEST(PrintWords, FilesAreCalledByTheirEndings) {
  using enum SheetFormat;
  std::size_t checked = 0;
  for (const SheetFormat format : {kPdf, kPng, kSvg, kDxf, kStl, kObj}) {
    std::string small(format_title(format));
    for (char& c : small) c = static_cast<char>(c - 'A' + 'a');
    EXPECT_EQ(format_ending(format), "." + small);
    EXPECT_TRUE(format_note(format).ends_with('.'));
    ++checked;
  }
  EXPECT_EQ(checked, 6U);
}

TEST(PrintWords, PagesLieInThreeWays) {
  std::set<std::string_view> titles;
  for (const PageWay way : kPageWays) titles.insert(page_way_title(way));
  EXPECT_EQ(titles.size(), kPageWays.size());
}

TEST(PrintWords, APrinterIsToldInMillimetres) {
  EXPECT_EQ(printer_sentence({"studio", {0.987, 0.9912}}),
            "100 mm come out as 98.70 across and 99.12 along the paper.");
  EXPECT_THAT(bars_sentence(""), HasSubstr("made for no printer"));
  EXPECT_THAT(bars_sentence("studio"), HasSubstr("made for 'studio'"));
  EXPECT_THAT(many_sheets_question(84), HasSubstr("84 sheets"));
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "project/clay_text.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>
#include <string>

#include "core/text.h"

namespace potshadow {
namespace {

using testing::HasSubstr;

ClayBody buff() {
  ClayBody body;
  body.record = "buff-mix";
  body.name = "Buff mix";
  int number = 0;
  for (const double fired : {88.0, 88.4, 87.6}) {
    TestBar bar;
    bar.wet_mm = 100.0;
    bar.dry_mm = 94.0;
    bar.fired_mm = fired;
    bar.firing_c = 950.0;
    bar.note = ++number == 2 ? "near the wall" : "";
    body.bars.push_back(bar);
  }
  return body;
}

TEST(ClayText, SaysEachFigureWithItsBasisAndSource) {
  const ClayBody body = buff();
  const std::string text = clay_text(body, body_figures(body, {}, std::nullopt));
  // 0.4 points of scatter in three bars: ± 4.303 x 0.4 / sqrt(3) = 0.99 (JCGM 100:2008, G.3).
  EXPECT_THAT(text, HasSubstr("12.00 ± 0.99 %   of the wet length            3 bars"));
  EXPECT_THAT(text, HasSubstr("of the bone-dry length"));
  EXPECT_THAT(text, HasSubstr("near the wall"));
  EXPECT_THAT(text, HasSubstr("1.136 times"));
  EXPECT_THAT(text, HasSubstr("multiplied, never added"));
  EXPECT_THAT(text, HasSubstr("fitted respirator"));
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(display_width(line), 100U) << line;
}

TEST(ClayText, SaysWhatStandsInWithoutBars) {
  ClayBody body;
  body.record = "new";
  const std::string text = clay_text(body, body_figures(body, {}, std::nullopt));
  EXPECT_THAT(text, HasSubstr("a handbook's range"));
  EXPECT_THAT(text, HasSubstr("potshadow clay sheet"));
}

TEST(ClayText, ListsTheBook) {
  EXPECT_THAT(clay_list_text({}), HasSubstr("empty"));
  const std::string text = clay_list_text({{buff()}});
  EXPECT_THAT(text, HasSubstr("buff-mix"));
  EXPECT_THAT(text, HasSubstr("12.00 ± 0.99 %   3 bars"));
}

// Florida Geological Survey, 15th Annual Report.
TEST(ClayText, PrintsThePublishedTable) {
  const std::string text = handbook_text();
  EXPECT_THAT(text, HasSubstr("Springside"));
  EXPECT_THAT(text, HasSubstr("28.6"));
  EXPECT_THAT(text, HasSubstr("Florida Geological Survey"));
}

}  // namespace
}  // namespace potshadow

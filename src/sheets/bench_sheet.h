// SPDX-License-Identifier: MIT
// The page that hangs over the bench: sizes by stage, clay, cradle, coils, cautions.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "sheets/pattern_pages.h"
#include "sheets/template_layout.h"

// All figures come ready to be set, as text. Model: one page, upright; the coils stand in two
// halves side by side and in smaller rows the more there are.
namespace potshadow {

struct BenchTable {
  std::vector<std::string> heads;              // of each column, the first one's too
  std::vector<std::vector<std::string>> rows;  // as many cells as there are heads
  double first_part = 0.3;                     // of the width, for the first column
};

struct BenchSheet {
  BenchTable sizes;                 // at each stage
  std::string sizes_note;           // one line below
  BenchTable clay;                  // two columns: what, how much
  std::vector<std::string> cradle;  // lines
  BenchTable coils;                 // from the cradle's line up
  std::vector<std::string> notes;   // on building: sag, coils together
  std::vector<std::string> cautions;
};

// More coils than this have no room; a plan with so many is one with far too thin coils.
inline constexpr std::size_t kMostCoils = 120;

// Returns the page. Fails with kCannotBeAnswered for more than kMostCoils, or where what it holds
// does not fit the paper.
Result<TemplatePage> bench_page(const BenchSheet& sheet, const TemplateRequest& facts,
                                const PageCount& count);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The template's pages, papers and printing in words.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sheets/template_sheet.h"

namespace potshadow {

// Returns "A4 (210 × 297 mm)" or "Letter (8½ × 11 in)".
std::string_view paper_name(Paper paper);

// Returns the words of the list of pages, for page `page` of 0 .. pages - 1: "Page 2 of 5: a part
// of the card, with check bars". Requires 0 <= page < pages.
std::string page_words(int page, int pages);

// Returns how to print and what to check before cutting, one sentence each. `pages` is how many
// there are.
std::vector<std::string> printing_advice(int pages);

}  // namespace potshadow

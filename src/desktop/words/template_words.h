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

// Returns the words of page `page` of 0 .. pages - 1: "Page 2 of 5: Ring gauges". Requires 0 <=
// page < pages.
std::string page_words(int page, int pages, std::string_view what_it_shows);

// Returns what a page shows, of a sheet's title, a piece and a part of it: "Ring gauges, ring for
// the neck, part A2". The latter two may be empty.
std::string place_words(std::string_view title, std::string_view piece, std::string_view label);

// Returns how to print and what to check before cutting, one sentence each. `pages` is how many
// there are.
std::vector<std::string> printing_advice(int pages);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Pages of patterns: pieces side by side where they fit, split over several where they do not.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "patterns/pattern.h"
#include "sheets/template_layout.h"

// Model: every page keeps a strip at its head for what the sheet is, one at its foot for the lying
// check bars and how to join, and one at its left for the standing bars and the page map. What is
// left is the window. Pieces that fit it stand in rows; a piece may lie turned by a quarter. A
// piece that does not fit is looked at through as many windows as it takes (tiling.h), less those
// that show nothing of it. Upright or lying pages, whichever are fewer.
namespace potshadow {

// One kind of sheet: what it is called, how it is used, and its pieces.
struct PatternSheet {
  std::string title;               // "Ring gauges"
  std::string scale = "1:1";       // as printed
  std::vector<std::string> how{};  // two lines at most
  std::vector<Pattern> pieces{};
  // The size shown is not the one to make: the section's. Else empty.
  std::string size_words{};
  bool for_making = true;  // else the head names no clay and no shrinkage
};

// Returns the pages. `facts` gives what every page names, and paper and printer; its profile and
// sizes are not looked at. Fails with kCannotBeAnswered beyond facts.most_pages.
Result<std::vector<TemplatePage>> pattern_pages(const PatternSheet& sheet,
                                                const TemplateRequest& facts,
                                                const PageCount& count);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "desktop/words/template_words.h"

#include "core/check.h"

namespace potshadow {

std::string_view paper_name(Paper paper) {
  switch (paper) {
    case Paper::kA3:
      return "A3 (297 × 420 mm)";
    case Paper::kLetter:
      return "Letter (8½ × 11 in)";
    case Paper::kLegal:
      return "Legal (8½ × 14 in)";
    case Paper::kTabloid:
      return "Tabloid (11 × 17 in)";
    case Paper::kA4:
      break;
  }
  return "A4 (210 × 297 mm)";
}

std::string page_words(int page, int pages) {
  POTSHADOW_CHECK(page >= 0 && page < pages);
  const std::string number =
      "Page " + std::to_string(page + 1) + " of " + std::to_string(pages) + ": ";
  if (pages == 1) return number + "the whole card, the sizes and the check bars";
  if (page == 0) return number + "the sizes, how to use the card, and check bars";
  return number + "a part of the card, with check bars";
}

std::vector<std::string> printing_advice(int pages) {
  std::vector<std::string> advice{
      "Print at 100 %, not fitted to the page.",
      "Lay a ruler on the check bars in both directions before you cut; if one is off, so is the "
      "pot."};
  if (pages > 1) {
    advice.push_back(
        "Cut each sheet along its dotted line and lay it on its neighbour so that the halves of "
        "each letter's mark meet.");
  }
  advice.push_back("Stiff paper or card keeps its edge longest against wet clay.");
  return advice;
}

}  // namespace potshadow

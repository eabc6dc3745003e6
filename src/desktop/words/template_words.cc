// SPDX-License-Identifier: MIT
#include "desktop/words/template_words.h"

#include "core/check.h"
#include "core/text.h"

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

std::string page_words(int page, int pages, std::string_view what_it_shows) {
  POTSHADOW_CHECK(page >= 0 && page < pages);
  return "Page " + std::to_string(page + 1) + " of " + std::to_string(pages) + ": " +
         std::string(what_it_shows);
}

std::string place_words(std::string_view title, std::string_view piece, std::string_view label) {
  std::string words(title);
  if (!piece.empty() && piece != title) words += ", " + lower_first(std::string(piece));
  if (!label.empty()) words += ", part " + std::string(label);
  return words;
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

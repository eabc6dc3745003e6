// SPDX-License-Identifier: MIT
#include "desktop/words/template_words.h"

#include "core/check.h"

namespace potshadow {

std::string_view paper_name(Paper paper) {
  return paper == Paper::kLetter ? "Letter (8½ × 11 in)" : "A4 (210 × 297 mm)";
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

std::string template_file_name(std::string_view vessel_name) {
  constexpr std::string_view kUnsafe = "/\\:*?\"<>|";
  constexpr std::size_t kMostBytes = 120;  // file systems allow 255
  std::string name;
  for (const char c : vessel_name) {
    const auto byte = static_cast<unsigned char>(c);
    const bool safe = byte >= 0x20 && byte != 0x7F && kUnsafe.find(c) == std::string_view::npos;
    name += safe ? c : ' ';
  }
  if (name.size() > kMostBytes) {
    std::size_t end = kMostBytes;
    while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0U) == 0x80U) --end;
    name.resize(end);
  }
  // A leading dot would hide the file, and blanks at the ends are hard to see.
  const std::size_t first = name.find_first_not_of(" .");
  if (first == std::string::npos) return "Template.pdf";
  name = name.substr(first, name.find_last_not_of(" .") - first + 1);
  return name + " template.pdf";
}

}  // namespace potshadow

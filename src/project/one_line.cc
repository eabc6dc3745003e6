// SPDX-License-Identifier: MIT
#include "project/one_line.h"

#include <cstddef>

namespace potshadow {

std::string on_one_line(std::string_view utf8) {
  std::string text(utf8);
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if (byte < 0x20U || byte == 0x7FU) text[i] = '?';
    // U+0080 to U+009F, two bytes in UTF-8.
    if (byte == 0xC2U && i + 1 < text.size()) {
      const auto second = static_cast<unsigned char>(text[i + 1]);
      if (second >= 0x80U && second < 0xA0U) text.replace(i, 2, "?");
    }
  }
  return text;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "core/printable.h"

#include <algorithm>
#include <cstddef>

namespace potshadow {
namespace {

// Returns the code points; broken bytes become kUnknownLetter. Source: RFC 3629.
std::vector<char32_t> code_points(std::string_view utf8) {
  std::vector<char32_t> out;
  std::size_t i = 0;
  while (i < utf8.size()) {
    const auto lead = static_cast<unsigned char>(utf8[i]);
    std::size_t more = 0;
    char32_t c = lead;
    char32_t least = 0;
    if (lead >= 0xF0 && lead < 0xF8) {
      more = 3;
      c = lead & 0x07U;
      least = 0x10000;
    } else if (lead >= 0xE0) {
      more = lead < 0xF0 ? 2 : 0;
      c = lead & 0x0FU;
      least = 0x800;
    } else if (lead >= 0xC0) {
      more = 1;
      c = lead & 0x1FU;
      least = 0x80;
    }
    bool good = lead < 0x80 || more > 0;
    std::size_t read = 1;
    for (; good && read <= more; ++read) {
      if (i + read >= utf8.size() || (static_cast<unsigned char>(utf8[i + read]) & 0xC0U) != 0x80) {
        good = false;
        break;
      }
      c = (c << 6U) | (static_cast<unsigned char>(utf8[i + read]) & 0x3FU);
    }
    if (good && (c < least || c > 0x10FFFF || (c >= 0xD800 && c <= 0xDFFF))) good = false;
    out.push_back(good ? c : kUnknownLetter);
    i += good ? more + 1 : std::max<std::size_t>(read, 1);
  }
  return out;
}

// Marks that print nothing but turn or join what stands around them.
bool is_invisible(char32_t c) {
  return (c >= 0x7F && c < 0xA0) || c == 0xAD || c == 0x61C || (c >= 0x200B && c <= 0x200F) ||
         (c >= 0x2028 && c <= 0x202E) || (c >= 0x2060 && c <= 0x206F) ||
         (c >= 0xFE00 && c <= 0xFE0F) || c == 0xFEFF || (c >= 0xE0000 && c <= 0xE0FFF);
}

}  // namespace

std::vector<char32_t> printable_points(std::string_view utf8) {
  std::vector<char32_t> out;
  for (const char32_t c : code_points(utf8)) {
    if (c < 0x20) {
      out.push_back(U' ');
    } else if (!is_invisible(c)) {
      out.push_back(c);
    }
  }
  return out;
}

void append_utf8(std::string& text, char32_t c) {
  const auto put = [&](char32_t byte) { text.push_back(static_cast<char>(byte)); };
  if (c < 0x80) {
    put(c);
  } else if (c < 0x800) {
    put(0xC0U | (c >> 6U));
    put(0x80U | (c & 0x3FU));
  } else if (c < 0x10000) {
    put(0xE0U | (c >> 12U));
    put(0x80U | ((c >> 6U) & 0x3FU));
    put(0x80U | (c & 0x3FU));
  } else {
    put(0xF0U | (c >> 18U));
    put(0x80U | ((c >> 12U) & 0x3FU));
    put(0x80U | ((c >> 6U) & 0x3FU));
    put(0x80U | (c & 0x3FU));
  }
}

std::string printable_text(std::string_view utf8) {
  std::string text;
  for (const char32_t c : printable_points(utf8)) append_utf8(text, c);
  return text;
}

}  // namespace potshadow

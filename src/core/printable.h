// SPDX-License-Identifier: MIT
// UTF-8 of any origin as what can be printed on one line.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace potshadow {

// Returns the code points that can be printed on one line: control and direction marks go, broken
// UTF-8 becomes "?", line ends and tabs become spaces. Source: RFC 3629.
std::vector<char32_t> printable_points(std::string_view utf8);

// Returns the same as UTF-8.
std::string printable_text(std::string_view utf8);

// Adds a code point as UTF-8.
void append_utf8(std::string& text, char32_t c);

// What stands for a letter that cannot be shown.
inline constexpr char32_t kUnknownLetter = U'?';

}  // namespace potshadow

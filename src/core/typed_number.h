// SPDX-License-Identifier: MIT
// Numbers as people type them, and as they like to see them in a field.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace potshadow {

// Returns the number in a text: digits with a point or a decimal comma, a fraction ("5/8"), or a
// whole number with a fraction ("3 1/2", also with the letters ½ ¼ ¾ ⅛ ⅜ ⅝ ⅞), with a sign; spaces
// around it do not matter. Nothing where it is no such number or not finite.
std::optional<double> typed_number(std::string_view text);

// Returns the number with at most `most_decimals` digits after the point and no zeros at the end.
std::string typed_text(double value, int most_decimals);

}  // namespace potshadow

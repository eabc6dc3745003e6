// SPDX-License-Identifier: MIT
// A measured length or volume as the parts that a table sets apart.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "core/measured.h"
#include "core/text.h"

// Rounded as everywhere in the program: the half-width of the 95 % interval to two digits, the
// value to the same place (core/measured.h).
namespace potshadow {

struct FigureText {
  std::string value;
  std::string plus_minus;
  std::string low;
  std::string high;
};

// Returns half of the 95 % interval.
double half_width95(const Measured& m);
// Returns the figure of a ratio, to at most `most_decimals` digits after the point.
FigureText plain_figure(const Measured& m, int most_decimals);
// Returns the figure of a length in `unit`; `mm` is in millimetres.
FigureText length_figure(const Measured& mm, LengthUnit unit);
// Returns the figure of a volume in millilitres.
FigureText volume_figure(const Measured& ml);

// Returns "± 4 %" for a share of 0.04; one digit after the point below 1 %.
std::string percent_text(double share);
// Return the text with its first letter, where that is a plain one, made small or large.
std::string with_small_start(std::string_view text);
std::string with_large_start(std::string_view text);
// Returns "1 mark", "3 marks".
std::string counted(std::size_t count, std::string_view one, std::string_view many);

}  // namespace potshadow

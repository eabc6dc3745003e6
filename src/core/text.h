// SPDX-License-Identifier: MIT
// Numbers and lengths as a potter reads them: millimetres, centimetres or inches with fractions.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "core/measured.h"
#include "core/units.h"

namespace potshadow {

enum class LengthUnit { kMm, kCm, kInch };

inline constexpr double kMmPerInch = 25.4;  // exact by definition

inline constexpr int kMostDecimals = 60;

// Returns `value` with exactly `decimals` digits after a point, whatever the locale; never "-0".
// Not finite values give "–". Requires 0 <= decimals <= kMostDecimals.
std::string fixed_text(double value, int decimals);

// Returns "mm", "cm" or "in".
std::string_view unit_name(LengthUnit unit);

// Returns how many of `unit` make up `length`.
double in_unit(Mm length, LengthUnit unit);

// Returns the length in inches to the nearest sixteenth, as "7 3/16", "5/8", "0" or "-1 1/2".
std::string sixteenths_text(Mm length);

// Returns value and half-width of the 95 % interval, rounded to match: "235.4 ± 1.8" (no unit), in
// the unit asked for. `m` is in millimetres.
std::string length_text(const Measured& m, LengthUnit unit);

// Returns how many columns a UTF-8 string takes on a terminal, one a code point (combining marks
// and wide characters are not used in what we print).
std::size_t display_width(std::string_view utf8);

// Returns `utf8` padded with spaces to `width` columns, on the right or on the left.
std::string pad_right(std::string_view utf8, std::size_t width);
std::string pad_left(std::string_view utf8, std::size_t width);

// Returns the text with its first letter small, if it is one of A to Z.
std::string lower_first(std::string_view text);

// Returns the text with its first letter large, if it is one of a to z.
std::string upper_first(std::string_view text);

}  // namespace potshadow

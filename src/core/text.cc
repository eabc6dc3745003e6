// SPDX-License-Identifier: MIT
#include "core/text.h"

#include <array>
#include <charconv>
#include <cmath>
#include <numeric>

#include "core/check.h"

namespace potshadow {

std::string fixed_text(double value, int decimals) {
  POTSHADOW_CHECK(decimals >= 0 && decimals <= kMostDecimals);
  if (!std::isfinite(value)) return "–";
  std::array<char, 400> buffer{};  // the largest double has 309 digits before the point
  const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                          std::chars_format::fixed, decimals);
  POTSHADOW_CHECK(error == std::errc{});
  std::string text(buffer.data(), end);
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  if (zero && text.front() == '-') text.erase(0, 1);
  return text;
}

std::string_view unit_name(LengthUnit unit) {
  switch (unit) {
    case LengthUnit::kMm:
      return "mm";
    case LengthUnit::kCm:
      return "cm";
    case LengthUnit::kInch:
      return "in";
  }
  return "mm";
}

double in_unit(Mm length, LengthUnit unit) {
  switch (unit) {
    case LengthUnit::kMm:
      return length.value;
    case LengthUnit::kCm:
      return length.value / 10.0;
    case LengthUnit::kInch:
      return length.value / kMmPerInch;
  }
  return length.value;
}

std::string sixteenths_text(Mm length) {
  constexpr long kParts = 16;
  if (!std::isfinite(length.value) || std::abs(length.value) > 1e9) return "–";
  const long total = std::lround(std::abs(length.value) / kMmPerInch * kParts);
  const long whole = total / kParts;
  const long part = total % kParts;
  std::string text = length.value < 0.0 && total > 0 ? "-" : "";
  if (part == 0) return text + std::to_string(whole);
  if (whole > 0) text += std::to_string(whole) + " ";
  const long common = std::gcd(part, kParts);
  return text + std::to_string(part / common) + "/" + std::to_string(kParts / common);
}

std::string length_text(const Measured& m, LengthUnit unit) {
  const double half_width = (m.high95 - m.low95) / 2.0;
  const int most = unit == LengthUnit::kMm ? 1 : (unit == LengthUnit::kCm ? 2 : 3);
  const RoundedText text =
      rounded(in_unit(Mm{m.value}, unit), in_unit(Mm{half_width}, unit), 0, most);
  return text.value + " ± " + text.plus_minus;
}

std::size_t display_width(std::string_view utf8) {
  std::size_t width = 0;
  for (const char c : utf8) {
    if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) ++width;
  }
  return width;
}

std::string pad_right(std::string_view utf8, std::size_t width) {
  const std::size_t used = display_width(utf8);
  return std::string(utf8) + std::string(width > used ? width - used : 0, ' ');
}

std::string pad_left(std::string_view utf8, std::size_t width) {
  const std::size_t used = display_width(utf8);
  return std::string(width > used ? width - used : 0, ' ') + std::string(utf8);
}

std::string lower_first(std::string_view text) {
  std::string out(text);
  if (!out.empty() && out.front() >= 'A' && out.front() <= 'Z') {
    out.front() = static_cast<char>(out.front() - 'A' + 'a');
  }
  return out;
}

std::string upper_first(std::string_view text) {
  std::string out(text);
  if (!out.empty() && out.front() >= 'a' && out.front() <= 'z') {
    out.front() = static_cast<char>(out.front() - 'a' + 'A');
  }
  return out;
}

}  // namespace potshadow

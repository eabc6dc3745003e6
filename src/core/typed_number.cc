// SPDX-License-Identifier: MIT
#include "core/typed_number.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <utility>

#include "core/text.h"

namespace potshadow {
namespace {

constexpr std::array<std::pair<std::string_view, double>, 7> kFractions = {
    {{"½", 0.5}, {"¼", 0.25}, {"¾", 0.75}, {"⅛", 0.125}, {"⅜", 0.375}, {"⅝", 0.625}, {"⅞", 0.875}}};

std::string_view trimmed(std::string_view text) {
  const auto is_space = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

std::optional<double> plain(std::string_view text) {
  std::string with_point(text);
  if (std::count(with_point.begin(), with_point.end(), ',') == 1 &&
      with_point.find('.') == std::string::npos) {
    with_point[with_point.find(',')] = '.';
  }
  double value = 0.0;
  const char* const end = with_point.data() + with_point.size();
  const auto [rest, error] = std::from_chars(with_point.data(), end, value);
  if (error != std::errc{} || rest != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<double> whole(std::string_view text) {
  if (text.empty() || text.find_first_not_of("0123456789") != std::string_view::npos) {
    return std::nullopt;
  }
  return plain(text);
}

// "5/8" or "½".
std::optional<double> fraction(std::string_view text) {
  for (const auto& [letter, value] : kFractions) {
    if (text == letter) return value;
  }
  const std::size_t slash = text.find('/');
  if (slash == std::string_view::npos) return std::nullopt;
  const auto above = whole(trimmed(text.substr(0, slash)));
  const auto below = whole(trimmed(text.substr(slash + 1)));
  if (!above || !below || *below == 0.0) return std::nullopt;
  return *above / *below;
}

}  // namespace

std::optional<double> typed_number(std::string_view text) {
  text = trimmed(text);
  if (text.empty()) return std::nullopt;
  double sign = 1.0;
  if (text.front() == '-' || text.front() == '+') {
    if (text.front() == '-') sign = -1.0;
    text = trimmed(text.substr(1));
    if (text.empty() || text.front() == '-' || text.front() == '+') return std::nullopt;
  }
  if (const auto value = plain(text)) return sign * *value;
  if (const auto value = fraction(text)) return sign * *value;
  // A whole number, then a fraction: "3 1/2" or "3½".
  const std::size_t digits = text.find_first_not_of("0123456789");
  if (digits == 0 || digits == std::string_view::npos) return std::nullopt;
  const auto first = whole(text.substr(0, digits));
  const std::string_view rest = trimmed(text.substr(digits));
  const auto second = fraction(rest);
  // "31/2" is 31 halves and was read above; here the fraction must stand apart or be one letter.
  if (!first || !second || *second >= 1.0) return std::nullopt;
  return sign * (*first + *second);
}

std::string typed_text(double value, int most_decimals) {
  std::string text = fixed_text(value, most_decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "desktop/words/figure_text.h"

#include <cstddef>

namespace potshadow {
namespace {

FigureText figure(const Measured& m, int least_decimals, int most_decimals) {
  const double width = half_width95(m);
  const auto text = [&](double value) {
    return rounded(value, width, least_decimals, most_decimals);
  };
  const RoundedText middle = text(m.value);
  return {middle.value, middle.plus_minus, text(m.low95).value, text(m.high95).value};
}

bool is_between(char c, char low, char high) { return c >= low && c <= high; }

constexpr char kCaseStep = 'a' - 'A';

}  // namespace

double half_width95(const Measured& m) { return (m.high95 - m.low95) / 2.0; }

FigureText plain_figure(const Measured& m, int most_decimals) {
  return figure(m, 0, most_decimals);
}

FigureText length_figure(const Measured& mm, LengthUnit unit) {
  // A tenth of a millimetre, or what comes near it.
  const int decimals = unit == LengthUnit::kMm ? 1 : unit == LengthUnit::kCm ? 2 : 3;
  return figure(scaled(mm, in_unit(Mm{1.0}, unit)), 0, decimals);
}

FigureText volume_figure(const Measured& ml) {
  constexpr int kLeastDecimals = -6;  // down to the cubic metre
  return figure(ml, kLeastDecimals, 0);
}

std::string percent_text(double share) {
  constexpr double kOnePercent = 0.01;
  return "± " + fixed_text(100.0 * share, share < kOnePercent ? 1 : 0) + " %";
}

std::string with_small_start(std::string_view text) {
  std::string out(text);
  if (!out.empty() && is_between(out[0], 'A', 'Z')) out[0] = static_cast<char>(out[0] + kCaseStep);
  return out;
}

std::string with_large_start(std::string_view text) {
  std::string out(text);
  if (!out.empty() && is_between(out[0], 'a', 'z')) out[0] = static_cast<char>(out[0] - kCaseStep);
  return out;
}

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
  return std::to_string(count) + " " + std::string(count == 1 ? one : many);
}

}  // namespace potshadow

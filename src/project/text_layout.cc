// SPDX-License-Identifier: MIT
#include "project/text_layout.h"

#include <algorithm>
#include <utility>

namespace potshadow::internal {

std::string Table::text() const {
  std::vector<std::size_t> widths(right_.size(), 0);
  for (const auto& row : rows_) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      widths[i] = std::max(widths[i], display_width(row[i]));
    }
  }
  std::string out;
  for (const auto& row : rows_) {
    std::string line = " ";
    for (std::size_t i = 0; i < row.size(); ++i) {
      line += i == 0 ? " " : "   ";
      line += right_[i] ? pad_left(row[i], widths[i]) : pad_right(row[i], widths[i]);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out;
}

std::string wrapped(const std::string& first, const std::string& text) {
  std::string out = first;
  const std::size_t indent = display_width(first);
  std::size_t column = indent;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string word = text.substr(at, end - at);
    at = end + 1;
    const std::size_t width = display_width(word);
    if (column > indent && column + 1 + width > kTextWidth) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
    } else if (column > indent) {
      out += ' ';
      ++column;
    }
    out += word;
    column += width;
  }
  return out + "\n";
}

Figure figure(const Measured& m, int most_decimals, int least_decimals) {
  const double half_width = (m.high95 - m.low95) / 2.0;
  const auto round = [&](double value) {
    return rounded(value, half_width, least_decimals, most_decimals);
  };
  const RoundedText middle = round(m.value);
  return {middle.value, middle.plus_minus, round(m.low95).value, round(m.high95).value};
}

Figure volume_figure(const Measured& ml) {
  constexpr int kLeastDecimals = -6;  // down to the cubic metre
  return figure(ml, 0, kLeastDecimals);
}

Figure length_figure(const Measured& mm, LengthUnit unit) {
  constexpr int kMostDecimalsMm = 1;
  constexpr int kMostDecimalsCm = 2;
  constexpr int kMostDecimalsInch = 3;
  const int decimals = unit == LengthUnit::kMm   ? kMostDecimalsMm
                       : unit == LengthUnit::kCm ? kMostDecimalsCm
                                                 : kMostDecimalsInch;
  return figure(scaled(mm, in_unit(Mm{1.0}, unit)), decimals);
}

std::string words_of(const Figure& f) { return f.value + " ± " + f.plus_minus; }

void FigureColumn::add(Figure f) {
  width_ = std::max(width_, display_width(f.plus_minus));
  figures_.push_back(std::move(f));
}

std::string FigureColumn::heading(const std::string& words) const {
  return words + std::string(display_width(" ± ") + width_, ' ');
}

std::string FigureColumn::middle(std::size_t row) const {
  const Figure& f = figures_.at(row);
  return f.value + " ± " + pad_right(f.plus_minus, width_);
}

std::string FigureColumn::interval(std::size_t row) const {
  return figures_.at(row).low + " to " + figures_.at(row).high;
}

}  // namespace potshadow::internal

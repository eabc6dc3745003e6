// SPDX-License-Identifier: MIT
// Laying out plain text for a terminal: tables, broken lines, figures below each other.
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "core/measured.h"
#include "core/text.h"

// For this part only. At most kTextWidth columns, unless a name or a table is longer.
namespace potshadow::internal {

inline constexpr std::size_t kTextWidth = 96;

// Rows of cells; each column is set flush right or left.
class Table {
 public:
  // `right` says so for each column.
  explicit Table(std::vector<bool> right) : right_(std::move(right)) {}
  void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
  std::string text() const;

 private:
  std::vector<bool> right_;
  std::vector<std::vector<std::string>> rows_;
};

// Returns the text broken at spaces into lines of at most kTextWidth columns; `first` stands before
// the first line, spaces of the same width before the others.
std::string wrapped(const std::string& first, const std::string& text);

// A value and its interval, rounded to match.
struct Figure {
  std::string value;
  std::string plus_minus;
  std::string low;
  std::string high;
};

Figure figure(const Measured& m, int most_decimals, int least_decimals = 0);
// Of millilitres: a vessel's capacity is known to some tens or hundreds of them.
Figure volume_figure(const Measured& ml);
// Of millimetres, in the unit asked for.
Figure length_figure(const Measured& mm, LengthUnit unit);
// Returns "6.0 ± 0.5".
std::string words_of(const Figure& f);

// The figures of all sizes of one kind, padded so that their ± stand below each other.
class FigureColumn {
 public:
  void add(Figure f);
  // Returns a heading that ends where the values end.
  std::string heading(const std::string& words) const;
  std::string middle(std::size_t row) const;
  std::string interval(std::size_t row) const;

 private:
  std::size_t width_ = 0;
  std::vector<Figure> figures_;
};

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// What pages share that are joined to one: overlap, names, marks and lines to cut along.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "sheets/drawing.h"

// Neighbouring windows share kOverlapMm. In the middle of what they share lies a dotted line: the
// lower or right sheet is cut along it and laid on its neighbour so that the halves of the marks
// meet. Sheets are called by row and column, A1 at the top left, marks by small letters.
namespace potshadow {

inline constexpr double kOverlapMm = 10.0;

// A cross in a circle, at the same place of what is drawn on both sheets that carry its letter.
struct RegistrationMark {
  std::string letter;
  PagePoint at;
};

inline constexpr double kMarkArmMm = 4.0;  // from a mark's middle to the ends of its cross

// Returns how many windows of `tile` a length takes.
double tiles_for(double length, double tile);

// Returns small letters without those that look like others: a, b ... z, ba, bb ...
std::string letter_for(std::size_t index);

// Returns "A1" for the first row and column.
std::string sheet_label(int row, int column);

// Returns the dotted line to cut along.
Stroke trim_line(PagePoint from, PagePoint to);

// Returns the marks as drawn.
std::vector<Drawn> drawn_marks(const std::vector<RegistrationMark>& marks);

}  // namespace potshadow

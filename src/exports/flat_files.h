// SPDX-License-Identifier: MIT
// Patterns as the bytes of SVG and DXF files, for a laser, a plotter or another drawing program.
#pragma once

#include <string>
#include <vector>

#include "patterns/pattern.h"

// Both have three layers, "cut", "mark" and "text", and are in millimetres at true size. All curves
// are runs of straight pieces (kPatternToleranceMm). Numbers have four decimals.
namespace potshadow {

struct FlatWords {
  std::string title;
  std::string about;  // vessel, stage, clay, shrinkage, scale
};

// Returns the pieces side by side, none over another, with a line of exactly 100 mm to check the
// scale by below them. Requires a piece.
Pattern on_one_sheet(const std::vector<Pattern>& pieces);

// Returns an SVG: cut red, mark blue, text black; intervals are outlines on "mark", areas filled
// black where they are solid. Source: W3C, SVG 1.1.
std::string svg_of(const Pattern& sheet, const FlatWords& words);

// Returns a DXF of release 12 in ASCII, lines as polylines, areas as their outlines. ± and ø are
// written as the format's own codes, dots and dashes as "-", other letters beyond ASCII as \U+XXXX,
// and "?" where that cannot hold them. Source: the format's published reference, release 12 (from
// memory).
std::string dxf_of(const Pattern& sheet, const FlatWords& words);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Headings and lines of text on a page that is read rather than cut; for this part only.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sheets/drawing.h"
#include "sheets/paper.h"

// Frame: as drawing.h.
namespace potshadow {

inline constexpr double kPageLineMm = 4.9;

// Returns an empty page, standing upright.
PageDrawing upright_page(Paper paper);

// Returns a line of text, its letters `size_mm` high, made smaller where it would be wider than
// `width_mm`.
Label sized_text(std::string words, double size_mm, PagePoint at, double width_mm);

// Returns a line of text at the size that is read at arm's length.
Label page_text(std::string words, PagePoint at, double width_mm);

Label page_heading(std::string words, double size_mm, PagePoint at, double width_mm);

// Draws the lines one below the other from `y_mm` on, and moves it below them.
void draw_text_lines(std::span<const std::string_view> lines, double left_mm, double width_mm,
                     double& y_mm, std::vector<Drawn>& out);

}  // namespace potshadow

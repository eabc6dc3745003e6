// SPDX-License-Identifier: MIT
#include "sheets/page_text.h"

#include <utility>

namespace potshadow {

PageDrawing upright_page(Paper paper) {
  const PaperSize size = paper_size(paper);
  PageDrawing page;
  page.width_mm = size.width_mm;
  page.height_mm = size.height_mm;
  return page;
}

Label sized_text(std::string words, double size_mm, PagePoint at, double width_mm) {
  Label label{std::move(words), at};
  label.size_mm = size_mm;
  label.most_width_mm = width_mm;
  return label;
}

Label page_text(std::string words, PagePoint at, double width_mm) {
  constexpr double kTextSizeMm = 3.2;
  return sized_text(std::move(words), kTextSizeMm, at, width_mm);
}

Label page_heading(std::string words, double size_mm, PagePoint at, double width_mm) {
  Label label = sized_text(std::move(words), size_mm, at, width_mm);
  label.bold = true;
  return label;
}

void draw_text_lines(std::span<const std::string_view> lines, double left_mm, double width_mm,
                     double& y_mm, std::vector<Drawn>& out) {
  constexpr double kBelowBaseMm = 1.4;
  for (const std::string_view words : lines) {
    y_mm += kPageLineMm;
    out.push_back(page_text(std::string(words), {left_mm, y_mm - kBelowBaseMm}, width_mm));
  }
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "sheets/drawing.h"

namespace potshadow {
namespace {

std::vector<PagePoint> corners(const PageBox& box) {
  return {{box.left_mm, box.top_mm},
          {box.right_mm, box.top_mm},
          {box.right_mm, box.bottom_mm},
          {box.left_mm, box.bottom_mm}};
}

}  // namespace

Area filled(const PageBox& box, double grey) { return {corners(box), grey}; }

Stroke outlined(const PageBox& box, double width_mm, double grey) {
  return {corners(box), width_mm, grey, true};
}

Stroke line(PagePoint from, PagePoint to, double width_mm, double grey) {
  return {{from, to}, width_mm, grey};
}

}  // namespace potshadow

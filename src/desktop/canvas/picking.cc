// SPDX-License-Identifier: MIT
#include "desktop/canvas/picking.h"

#include <algorithm>
#include <cmath>

namespace potshadow {

std::optional<MarkId> mark_near(const Document& document, std::size_t photo,
                                const PhotoTransform& transform, ScreenPoint at, double reach,
                                std::optional<MarkKind> favoured) {
  std::optional<MarkId> best;
  double best_distance = 0.0;
  bool best_favoured = false;
  for (const MarkId& mark : marks_of(document, photo)) {
    const ScreenPoint place = transform.to_screen(*point_at(document, mark));
    const double distance = std::hypot(place.x - at.x, place.y - at.y);
    if (!(distance <= reach)) continue;
    const bool wanted = favoured && mark.place.kind == *favoured;
    if (best && (best_favoured && !wanted)) continue;
    if (best && best_favoured == wanted && distance >= best_distance) continue;
    best = mark;
    best_distance = distance;
    best_favoured = wanted;
  }
  return best;
}

std::vector<MarkId> marks_within(const Document& document, std::size_t photo,
                                 const PhotoTransform& transform, ScreenPoint a, ScreenPoint b) {
  std::vector<MarkId> inside;
  for (const MarkId& mark : marks_of(document, photo)) {
    const ScreenPoint place = transform.to_screen(*point_at(document, mark));
    if (place.x >= std::min(a.x, b.x) && place.x <= std::max(a.x, b.x) &&
        place.y >= std::min(a.y, b.y) && place.y <= std::max(a.y, b.y)) {
      inside.push_back(mark);
    }
  }
  return inside;
}

std::optional<MarkId> next_mark(const Document& document, std::size_t photo,
                                const std::optional<MarkId>& from, bool backwards) {
  const std::vector<MarkId> all = marks_of(document, photo);
  if (all.empty()) return std::nullopt;
  const auto found = from ? std::find(all.begin(), all.end(), *from) : all.end();
  if (found == all.end()) return backwards ? all.back() : all.front();
  const auto at = static_cast<std::size_t>(found - all.begin());
  return all[(at + (backwards ? all.size() - 1 : 1)) % all.size()];
}

std::vector<MarkId> still_there(const Document& document, std::vector<MarkId> selection) {
  std::erase_if(selection, [&](const MarkId& mark) { return !point_at(document, mark); });
  return selection;
}

}  // namespace potshadow

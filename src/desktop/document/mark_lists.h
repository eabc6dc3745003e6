// SPDX-License-Identifier: MIT
// The lists of points that a photograph's marks lie in.
#pragma once

#include <algorithm>
#include <span>
#include <type_traits>
#include <utility>
#include <vector>

#include "desktop/document/document.h"

// Internal to `document`.
namespace potshadow::internal {

template <class Owner, class T>
using ConstWith = std::conditional_t<std::is_const_v<Owner>, const T, T>;

inline PhotoPoint& point_in(PhotoPoint& point) { return point; }
inline const PhotoPoint& point_in(const PhotoPoint& point) { return point; }
inline PhotoPoint& point_in(ProjectReference::Crossing& crossing) { return crossing.at; }
inline const PhotoPoint& point_in(const ProjectReference::Crossing& crossing) {
  return crossing.at;
}

// Calls `visit(part, list)` for every list of a reference's marks, in the order in which the marks
// are numbered; a list is a vector, or the array of the line where shelf and pane meet.
template <class Reference, class Visit>
void each_list(Reference& reference, Visit&& visit) {
  const std::string& kind = reference.kind;
  if (kind == "neighbour") {
    visit(MarkPart::kRim, reference.marks.rim);
    visit(MarkPart::kBase, reference.marks.base);
    visit(MarkPart::kLeft, reference.marks.left);
    visit(MarkPart::kRight, reference.marks.right);
    return;
  }
  if (kind == "rectangle" || kind == "grid") {
    visit(MarkPart::kCorner, reference.corners);
  } else if (kind == "disc") {
    visit(MarkPart::kEdge, reference.edge);
  } else if (kind == "length") {
    visit(MarkPart::kEnd, reference.ends);
  } else {
    return;
  }
  if (kind == "grid") visit(MarkPart::kCrossing, reference.crossings);
  if (reference.place == "on-glass" && reference.shelf_at_glass) {
    visit(MarkPart::kShelfLine, *reference.shelf_at_glass);
  }
}

// The vessel's own list of that kind; null for a reference.
template <class AnyMarks>
ConstWith<AnyMarks, std::vector<PhotoPoint>>* list_of(AnyMarks& marks, MarkKind kind) {
  switch (kind) {
    case MarkKind::kRim:
      return &marks.rim;
    case MarkKind::kBase:
      return &marks.base;
    case MarkKind::kLeft:
      return &marks.left;
    case MarkKind::kRight:
      return &marks.right;
    case MarkKind::kReference:
      break;
  }
  return nullptr;
}

// The reference that the mark is on; null for a mark on the vessel, or where there is none.
template <class AnyDocument>
ConstWith<AnyDocument, ProjectReference>* reference_of(AnyDocument& document, const MarkId& mark) {
  if (mark.place.kind != MarkKind::kReference || mark.photo >= document.photos.size()) {
    return nullptr;
  }
  auto& references = document.photos[mark.photo].references;
  return mark.place.reference < references.size() ? &references[mark.place.reference] : nullptr;
}

// A mark that was found: what it is part of, its place in its own list, and its point (null: there
// is no such mark).
template <class Point>
struct Found {
  MarkPart part = MarkPart::kVessel;
  std::size_t index = 0;
  Point* point = nullptr;
};

template <class AnyDocument>
Found<ConstWith<AnyDocument, PhotoPoint>> find_mark(AnyDocument& document, const MarkId& mark) {
  Found<ConstWith<AnyDocument, PhotoPoint>> found;
  std::size_t number = mark.place.number;
  if (auto* const reference = reference_of(document, mark)) {
    each_list(*reference, [&](MarkPart part, auto& list) {
      if (found.point != nullptr) return;
      if (number < list.size()) {
        found = {part, number, &point_in(list[number])};
      } else {
        number -= list.size();
      }
    });
    return found;
  }
  if (mark.photo >= document.photos.size()) return found;
  auto* const list = list_of(document.photos[mark.photo].marks, mark.place.kind);
  if (list == nullptr || number >= list->size()) return found;
  return {MarkPart::kVessel, number, &(*list)[number]};
}

}  // namespace potshadow::internal

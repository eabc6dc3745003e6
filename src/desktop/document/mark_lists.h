// SPDX-License-Identifier: MIT
// The list of points that a mark belongs to.
#pragma once

#include <type_traits>
#include <vector>

#include "desktop/document/document.h"

// Internal to `document`.
namespace potshadow::internal {

// Returns the list, const where the document is; null where there is no such photograph or
// reference, or the reference's kind has no marks.
template <class AnyDocument>
auto* list_of(AnyDocument& document, const MarkId& mark) {
  using List = std::conditional_t<std::is_const_v<AnyDocument>, const std::vector<PhotoPoint>,
                                  std::vector<PhotoPoint>>;
  List* const none = nullptr;
  if (mark.photo >= document.photos.size()) return none;
  auto& photo = document.photos[mark.photo];
  switch (mark.place.kind) {
    case MarkKind::kRim:
      return &photo.marks.rim;
    case MarkKind::kBase:
      return &photo.marks.base;
    case MarkKind::kLeft:
      return &photo.marks.left;
    case MarkKind::kRight:
      return &photo.marks.right;
    case MarkKind::kReference:
      break;
  }
  if (mark.place.reference >= photo.references.size()) return none;
  auto& reference = photo.references[mark.place.reference];
  if (reference.kind == "rectangle") return &reference.corners;
  if (reference.kind == "disc") return &reference.edge;
  return none;
}

}  // namespace potshadow::internal

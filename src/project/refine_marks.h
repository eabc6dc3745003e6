// SPDX-License-Identifier: MIT
// Sets a reference's rough marks onto its edges.
#pragma once

#include <vector>

#include "core/result.h"
#include "photo/decode.h"
#include "project/project.h"

// In the library potshadow_tracing, because it reads pictures.
namespace potshadow {

// A card has a thickness and throws a shadow, and its printed size is that of neither: no corner is
// believed to better than this (found on rendered cards, where a faint edge was off by 0.9 px).
inline constexpr double kSharpestReferencePx = 0.3;

struct RefinedMarks {
  ProjectReference reference;
  std::vector<Note> notes;  // on sides that have no clear edge
};

// Whether marks of this kind can be refined: a rectangle with four corners, a disc with points
// round its edge.
bool can_refine(const ProjectReference& reference);

// Returns the reference with its marks where its edges are in the upright and turned `picture`, and
// with their precision; a corner without a clear edge stays where it was, and then none of them
// counts as more precise than the photograph's marks. Requires can_refine. Fails as refine_card and
// refine_disc do. Slow: some 50 ms.
Result<RefinedMarks> refine_marks(const ProjectReference& reference, const Picture& picture);

}  // namespace potshadow

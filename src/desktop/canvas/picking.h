// SPDX-License-Identifier: MIT
// Which mark lies under the pointer, which lie in a box, and which comes next.
#pragma once

#include <optional>
#include <vector>

#include "desktop/canvas/photo_transform.h"
#include "desktop/document/document.h"

namespace potshadow {

// Returns the mark nearest to `at`, at most `reach` window pixels away; marks of `favoured` win
// over others that are nearer.
std::optional<MarkId> mark_near(const Document& document, std::size_t photo,
                                const PhotoTransform& transform, ScreenPoint at, double reach,
                                std::optional<MarkKind> favoured);

// Returns the marks inside the box spanned by two window places.
std::vector<MarkId> marks_within(const Document& document, std::size_t photo,
                                 const PhotoTransform& transform, ScreenPoint a, ScreenPoint b);

// Returns the mark after (or before) `from` in the order of marks_of, going round; the first (last)
// where `from` is none.
std::optional<MarkId> next_mark(const Document& document, std::size_t photo,
                                const std::optional<MarkId>& from, bool backwards);

// Returns the selection without marks that the document no longer has.
std::vector<MarkId> still_there(const Document& document, std::vector<MarkId> selection);

}  // namespace potshadow

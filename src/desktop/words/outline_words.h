// SPDX-License-Identifier: MIT
// Marks on the vessel in words: what to mark and why, how many are left, and how well they fit.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "desktop/words/trace_words.h"
#include "estimate/answer.h"
#include "estimate/input.h"
#include "project/measure.h"
#include "project/project.h"

namespace potshadow {

struct MarkKindWords {
  std::string_view title;  // "Rim"
  std::string_view what;   // what to mark, one sentence
  std::string_view why;    // the trade's reason, one sentence
  std::size_t least = 0;   // marks needed; of the outline, of both sides together
};

// The fewest marks that give an answer; the estimate asks for the same.
inline constexpr std::size_t kLeastOnRim = 5;
inline constexpr std::size_t kLeastOnFoot = 3;
inline constexpr std::size_t kLeastOnOutline = 6;  // left and right together

// Returns the words for a kind of mark; `round_base`: the vessel has no foot.
MarkKindWords mark_kind_words(MarkKind kind, bool round_base);

// Returns how many marks of the kind are still needed; of an outline side, of both together.
std::size_t marks_wanting(MarkKind kind, const ProjectMarks& marks, bool round_base);

// Returns the live prompt: "3 marked; mark at least 2 more points on the rim." Requires a kind on
// the vessel.
std::string mark_prompt(MarkKind kind, const ProjectMarks& marks, bool round_base);

// Returns "Worst: right mark 7, 1.7 px off (2.1 times what marking allows)"; empty for no marks.
std::string worst_mark_words(const Measurement& measurement);
// Returns how the marks fit on the whole: "The 54 marks lie 0.5 pixels from the fitted vessel on
// the whole, which is good."
std::string fit_sentence(const Fit& fit);

// What is going on on the photograph.
struct CanvasState {
  std::optional<MarkKind> tool = std::nullopt;  // none: selecting
  std::size_t selected = 0;                     // marks selected
  bool over_mark = false;                       // the pointer is at a mark
  bool dragging = false;                        // marks are being moved
  bool crossings = false;                       // with a reference: crossings of its tiles
  std::optional<TraceTool> tracing = std::nullopt;
  std::string left_out{};  // what is said of the stretch under the pointer that was left out
};

// Returns the line of help at the foot of the photograph.
std::string help_line(const CanvasState& canvas);

}  // namespace potshadow

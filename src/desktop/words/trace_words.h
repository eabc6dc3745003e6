// SPDX-License-Identifier: MIT
// The traced outline in words: what was found, what was left out and why, and what the brushes do.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "project/project.h"

namespace potshadow {

// What a pull on the photograph does in tracing.
enum class TraceTool { kBox, kPaintVessel, kPaintAway, kRubOut };

struct TraceToolWords {
  std::string_view title;    // "Paint vessel"
  std::string_view tooltip;  // what it is good for, with its key
  std::string_view help;     // the line at the photograph's foot while it is in hand
};
TraceToolWords trace_tool_words(TraceTool tool);

// Returns what was found, in one line: "154 marks left, 153 right, 186 on the rim, 49 on the foot;
// 2 stretches left out." Parts that the project says are not seen are not named.
std::string found_words(const ProjectTrace& trace, bool rim_seen, bool foot_seen);

// Returns what is said of a stretch that was left out: "Left out on the left side: the edge is too
// faint here. Mark it by hand if you can see it."
std::string left_out_words(const ProjectTrace::Doubtful& stretch);

// Returns the marks of the vessel that count: those of the hand, and traced ones that none of the
// hand overrules.
ProjectMarks counted_marks(const ProjectPhoto& photo);

}  // namespace potshadow

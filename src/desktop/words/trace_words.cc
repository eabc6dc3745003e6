// SPDX-License-Identifier: MIT
#include "desktop/words/trace_words.h"

#include "core/text.h"
#include "desktop/words/figure_text.h"
#include "project/join_trace.h"
#include "project/one_line.h"

namespace potshadow {
namespace {

std::string_view edge_words(const std::string& edge) {
  if (edge == "rim") return " on the rim";
  if (edge == "base") return " on the foot";
  if (edge == "left") return " on the left side";
  if (edge == "right") return " on the right side";
  return "";
}

}  // namespace

TraceToolWords trace_tool_words(TraceTool tool) {
  switch (tool) {
    case TraceTool::kBox:
      return {"Find the outline",
              "Drag a rough box round the vessel, and its edge is found and marked all round (O). "
              "Look at it afterwards: it may have followed a shadow.",
              "Drag a rough box round the vessel, from corner to corner. Esc leaves it."};
    case TraceTool::kPaintVessel:
      return {"Paint vessel",
              "Paint over a part of the vessel that was taken for background, and the outline is "
              "found anew (P).",
              "Paint over what is vessel, well inside it. [ and ] change the brush, Esc ends it."};
    case TraceTool::kPaintAway:
      return {"Paint away",
              "Paint over a shadow or a neighbour that was taken for the vessel, and the outline "
              "is found anew (A).",
              "Paint over what is not vessel. [ and ] change the brush, Esc ends it."};
    case TraceTool::kRubOut:
      break;
  }
  return {
      "Rub out",
      "Takes away the found marks that you brush over, and nothing is found anew (U). A missing "
      "mark costs little, a wrong one much.",
      "Brush over found marks that are wrong. [ and ] change the brush, Esc ends it."};
}

std::string found_words(const ProjectTrace& trace, bool rim_seen, bool foot_seen) {
  std::string text = counted(trace.left.size(), "mark", "marks") + " left, " +
                     std::to_string(trace.right.size()) + " right";
  if (rim_seen) text += ", " + std::to_string(trace.rim.size()) + " on the rim";
  if (foot_seen) text += ", " + std::to_string(trace.base.size()) + " on the foot";
  if (!trace.doubtful.empty()) {
    text += "; " + counted(trace.doubtful.size(), "stretch", "stretches") + " left out";
  }
  return text + ".";
}

std::string left_out_words(const ProjectTrace::Doubtful& stretch) {
  const std::string start = "Left out" + std::string(edge_words(stretch.edge));
  const std::string why = stretch.why.empty() ? "" : ": " + on_one_line(stretch.why);
  return start + why + ". Mark it by hand if you can see it.";
}

ProjectMarks counted_marks(const ProjectPhoto& photo) {
  const Marks marks = joined_marks(photo);
  return {marks.rim, marks.base, marks.left, marks.right, marks.sd_px, {}};
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "desktop/window/reference_tool.h"

#include "desktop/window/canvas_input.h"

namespace potshadow {

void start_tool(Frame& frame, const Tool& tool) {
  frame.state.tool = tool;
  frame.state.canvas.edge_points.clear();
  frame.state.middle = Middle::kPhoto;
}

void choose_reference(Frame& frame, std::size_t reference) {
  frame.state.reference = reference;
  const Tool& tool = frame.state.tool;
  const bool marks_reference =
      collects(tool) || (tool.kind == ToolKind::kMark && tool.mark == MarkKind::kReference);
  if (marks_reference) frame.state.tool = Tool{};
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "desktop/window/trace_panel.h"

#include <string>

#include "core/text.h"
#include "desktop/window/kit.h"
#include "desktop/window/trace_input.h"
#include "desktop/words/trace_words.h"
#include "project/join_trace.h"

namespace potshadow {
namespace {

void tool_button(Frame& frame, TraceTool which, bool accent) {
  Tool& tool = frame.state.tool;
  const TraceToolWords words = trace_tool_words(which);
  const std::string reason = trace_tool_reason(frame, which);
  const kit::ButtonLook look{.enabled = reason.empty(),
                             .reason = reason,
                             .tooltip = std::string(words.tooltip),
                             .accent = accent};
  const std::string title(words.title);
  if (tool == Tool{.kind = ToolKind::kTrace, .trace = which}) {
    if (kit::choice(frame, title, true, look)) tool = Tool{};
  } else if (kit::button(frame, title, look)) {
    use_trace_tool(frame, which);
  }
}

// How far the work is, or why it came to nothing.
void work_in_hand(Frame& frame) {
  const TraceWork& work = frame.session.trace_work();
  if (kit::busy(frame, work.busy, "Gives up finding the outline (Esc).")) frame.ask(StopTracing{});
  if (work.photo != frame.state.photo) return;
  if (work.problem) kit::problem(frame, *work.problem);
}

void what_was_found(Frame& frame, const ProjectTrace& trace) {
  const Document& document = frame.document();
  kit::note(frame, found_words(trace, !document.hidden_rim,
                               !document.hidden_foot && !document.round_base));
  const TraceWork& work = frame.session.trace_work();
  if (work.photo != frame.state.photo) return;
  for (const Note& note : work.notes) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
  }
}

void mending(Frame& frame, const ProjectPhoto& photo) {
  for (const TraceTool tool :
       {TraceTool::kPaintVessel, TraceTool::kPaintAway, TraceTool::kRubOut}) {
    tool_button(frame, tool, false);
  }
  const Tool& tool = frame.state.tool;
  if (tool.kind == ToolKind::kTrace && tool.trace != TraceTool::kBox) {
    double& brush = frame.state.canvas.brush;
    constexpr double kUsualBrush = 24.0;
    kit::slider(frame, "Brush", brush, kLeastBrush, kMostBrush, kUsualBrush,
                fixed_text(brush, 0) + " px");
  }
  if (photo.trace && kit::button(frame, "Remove what was found",
                                 {.tooltip = "Takes away all found marks and the box; marks by "
                                             "hand stay. Undo brings them back."})) {
    frame.ask(Perform{SetTrace{frame.state.photo, {}}});
  }
}

}  // namespace

void trace_panel(Frame& frame, const ProjectPhoto& photo) {
  const bool busy = frame.session.trace_work().busy.has_value();
  const bool first = !has_marks(photo) && !busy;
  tool_button(frame, TraceTool::kBox, first);
  if (first && !frame.session.trace_work().problem) {
    kit::note(frame, "Then drag a rough box round the vessel.");
  }
  work_in_hand(frame);
  if (photo.trace) what_was_found(frame, *photo.trace);
  // Nothing to mend yet while the first outline is being looked for.
  if (photo.trace || (!busy && trace_to_mend(frame) != nullptr)) mending(frame, photo);
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include "desktop/window/canvas_input.h"
#include "desktop/window/kit.h"
#include "desktop/window/mark_choice.h"
#include "desktop/window/reference_editor.h"
#include "desktop/window/reference_tool.h"
#include "desktop/words/outline_words.h"
#include "project/refine_marks.h"

namespace potshadow {

void ReferenceEditor::along_edges() const {
  const std::size_t clicked = frame_.state.canvas.edge_points.size();
  constexpr std::array<const char*, kCornerCount> kUpright{"lower", "right", "upper", "left"};
  constexpr std::array<const char*, kCornerCount> kFlat{"near", "right", "far", "left"};
  const std::size_t edge = std::min(clicked / 2, kCornerCount - 1);
  kit::words(frame_, std::string(clicked % 2 == 0 ? "Click a point on its " : "Another on its ") +
                         (where() == Place::kLying ? kFlat : kUpright).at(edge) +
                         " edge, well apart: " + std::to_string(clicked) + " of 8.");
  kit::note(frame_, "Stay off the rounded corners; they are worked out from the straight edges.");
}

// The buttons to mark corners, ends or an edge.
void ReferenceEditor::corner_buttons() {
  Tool& tool = frame_.state.tool;
  const bool ends = value_.kind == "length";
  const bool along = tool == marking_tool(index_, ToolKind::kEdges);
  const bool disc = value_.kind == "disc";
  const bool full =
      ends ? value_.ends.size() >= kEndCount : !disc && value_.corners.size() >= kCornerCount;
  const std::string points = ends                    ? "Mark its ends"
                             : disc                  ? "Mark its edge"
                             : value_.kind == "grid" ? "Mark the block's corners"
                                                     : "Mark its corners";
  if (tool == marking_tool(index_)) {
    if (kit::choice(frame_, points, true, {.tooltip = "Press it again when you are done."})) {
      tool = Tool{};
    }
  } else if (kit::button(frame_, points,
                         {.enabled = !full,
                          .reason = ends ? "Both are marked. Drag an end to move it."
                                         : "All four are marked. Drag a corner to move it.",
                          .tooltip = "Then click on the photograph.",
                          .accent = reference_missing(value_).size() == 1 && !along})) {
    start_tool(frame_, marking_tool(index_));
  }
  if (value_.kind != "rectangle") return;
  if (kit::choice(frame_, "Mark along its edges", along,
                  {.tooltip = "For rounded corners, as of a bank card: click two points on each "
                              "straight edge, and the corners are worked out where the edges "
                              "would meet."})) {
    start_tool(frame_, along ? Tool{} : marking_tool(index_, ToolKind::kEdges));
  }
}

// A part of the neighbour to mark, with the shape of its marks and how many there are.
void ReferenceEditor::neighbour_row(MarkKind kind) {
  const MarkPart part = neighbour_part(kind);
  Tool tool = marking_tool(index_);
  tool.part = part;
  const bool chosen = frame_.state.tool.kind == ToolKind::kMark &&
                      frame_.state.tool.reference == index_ && part_of_tool(frame_) == part;
  const bool hidden = kind == MarkKind::kBase && value_.round_base;
  const MarkKindWords words = mark_kind_words(kind, value_.round_base);
  const std::string count = std::to_string(
      marks_in(frame_.document(), {frame_.state.photo, {MarkKind::kReference, index_, 0}}, part));
  if (mark_choice(frame_, std::string(words.title), kind, part, chosen, count,
                  {.enabled = !hidden,
                   .reason = std::string(words.why),
                   .tooltip = "The same as on your own vessel, but on this one."})) {
    start_tool(frame_, chosen ? Tool{} : tool);
  }
}

void ReferenceEditor::neighbour_marks() {
  constexpr std::array<MarkKind, 4> kKinds{MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft,
                                           MarkKind::kRight};
  for (const MarkKind kind : kKinds) neighbour_row(kind);
  const Tool& tool = frame_.state.tool;
  const std::optional<MarkKind> marking = kind_of_part(part_of_tool(frame_));
  if (marking && tool.reference == index_) {
    kit::words(frame_, std::string(mark_kind_words(*marking, value_.round_base).what));
    kit::words(frame_, mark_prompt(*marking, value_.marks, value_.round_base));
  }
  if (kit::check(frame_, "Round base", value_.round_base,
                 "It rests on a rounded bottom and has no foot that could be marked.")) {
    changed_ = true;
    if (marking == MarkKind::kBase && tool.reference == index_) frame_.state.tool = Tool{};
  }
}

void ReferenceEditor::marks() {
  kit::heading(frame_, "Marks");
  std::size_t there = 0;
  for (const MarkId& mark : marks_of(frame_.document(), frame_.state.photo)) {
    const bool here = mark.place.kind == MarkKind::kReference && mark.place.reference == index_;
    if (here && part_of(frame_.document(), mark) != MarkPart::kShelfLine) ++there;
  }
  if (is_neighbour()) {
    neighbour_marks();
  } else {
    corner_buttons();
    const Tool& tool = frame_.state.tool;
    if (tool == marking_tool(index_, ToolKind::kEdges)) {
      along_edges();
    } else if (there > 0 || tool == marking_tool(index_)) {
      kit::words(frame_, reference_prompt(value_));
    }
    crossings();
  }
  if (can_refine(value_)) {
    const bool disc = value_.kind == "disc";
    if (kit::button(
            frame_, disc ? "Set them onto its edge" : "Set them onto its edges",
            {.tooltip = "Finds the edges near the marks, and where they meet, to a fraction "
                        "of a pixel. Clicks then may be rough. Undo takes it back."})) {
      frame_.ask(RefineReference{index_});
    }
  }
  if (there > 0 && kit::link(frame_, "Take its marks out", "To mark it anew.")) {
    RemoveMarks remove;
    for (std::size_t i = 0; i < there; ++i) {
      remove.marks.push_back({frame_.state.photo, {MarkKind::kReference, index_, i}});
    }
    frame_.ask(Perform{remove});
  }
}

}  // namespace potshadow

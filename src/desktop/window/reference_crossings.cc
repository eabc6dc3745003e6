// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <optional>
#include <string>
#include <vector>

#include "desktop/canvas/block_lines.h"
#include "desktop/canvas/picking.h"
#include "desktop/window/canvas_input.h"
#include "desktop/window/kit.h"
#include "desktop/window/number_fields.h"
#include "desktop/window/reference_editor.h"
#include "desktop/window/reference_tool.h"

namespace potshadow {
namespace {

constexpr const char* kColumns = "Lines across from corner 1; below zero to the left of it.";
constexpr const char* kRows = "Lines up or away from corner 1; below zero below or before it.";

CountField line_field(const std::string& label, int value, const char* tooltip) {
  return {.label = label,
          .value = value,
          .tooltip = tooltip,
          .least = -kFarthestCrossing,
          .most = kFarthestCrossing};
}

}  // namespace

// Crossings of the joints beyond the block's corners: in a row each, the selected one with fields.
void ReferenceEditor::crossings() {
  if (value_.kind != "grid" || value_.corners.size() != kCornerCount) return;
  Tool tool = marking_tool(index_);
  tool.part = MarkPart::kCrossing;
  const bool marking = frame_.state.tool == tool;
  if (kit::choice(frame_, "Mark further crossings", marking,
                  {.tooltip = "Click where joints cross, in the block or beyond it (X). Each more "
                              "makes the answer surer, most of all those far from the block."})) {
    start_tool(frame_, marking ? Tool{} : tool);
  }
  if (marking || !value_.crossings.empty()) {
    kit::note(frame_, crossings_prompt(value_.crossings.size()));
  }
  for (std::size_t i = 0; i < value_.crossings.size(); ++i) crossing_row(i);
  if (kit::fold(frame_, "Add one by its numbers")) crossing_by_numbers();
}

void ReferenceEditor::crossing_row(std::size_t index) {
  const MarkId mark{frame_.state.photo,
                    {MarkKind::kReference, index_, value_.corners.size() + index}};
  const std::vector<MarkId>& selection = frame_.state.canvas.selection;
  const bool chosen = selection.size() == 1 && selection.front() == mark;
  const ProjectReference::Crossing& crossing = value_.crossings[index];
  if (kit::choice(frame_, crossing_words(index, {crossing.column, crossing.row}), chosen,
                  {.tooltip = "Shows it on the photograph. There it can be dragged, moved with the "
                              "arrow keys, or taken out with Delete."})) {
    select_mark(frame_, mark);
  }
  if (!chosen) return;
  GridPlace place{crossing.column, crossing.row};
  const auto column = count_field(frame_, line_field("Column", place.column, kColumns));
  const auto row = count_field(frame_, line_field("Row", place.row, kRows));
  if (column || row) set_crossing(index, {column.value_or(place.column), row.value_or(place.row)});
  if (kit::link(frame_, "Take this crossing out", "Undo brings it back.")) {
    frame_.ask(Perform{RemoveMarks{{mark}}});
  }
}

void ReferenceEditor::set_crossing(std::size_t index, GridPlace place) {
  ProjectReference::Crossing& crossing = value_.crossings[index];
  if (place == GridPlace{crossing.column, crossing.row}) return;
  if (is_marked(value_, place)) {
    kit::complain(frame_, "There is a mark for that crossing already, so nothing was changed.",
                  "Take the other out first, or count the lines again.");
    return;
  }
  crossing.column = place.column;
  crossing.row = place.row;
  changed_ = true;
}

// Puts a crossing in where the block's corners say that it is: the way for the keyboard alone.
void ReferenceEditor::crossing_by_numbers() {
  GridPlace& place = frame_.state.new_crossing;
  if (const auto column = count_field(frame_, line_field("New column", place.column, kColumns))) {
    place.column = *column;
  }
  if (const auto row = count_field(frame_, line_field("New row", place.row, kRows))) {
    place.row = *row;
  }
  if (!kit::button(
          frame_, "Put it in",
          {.tooltip = "Where the block's corners say that it is. Then move it to its place "
                      "with the arrow keys, or press E to snap it to the joint."})) {
    return;
  }
  const auto at = crossing_at(value_.corners, value_.columns, value_.rows, place);
  const PictureSize size = shown_size(frame_);
  if (!at || !(inside_picture(*at, size) == *at)) {
    kit::complain(frame_, "That crossing is not in the picture.",
                  "Count its lines again, from the block's corner 1.");
    return;
  }
  const MarkId list{frame_.state.photo, {MarkKind::kReference, index_, 0}};
  const MarkId mark = next_in(frame_.document(), list, MarkPart::kCrossing);
  frame_.ask(Perform{AddMark{mark, *at, MarkPart::kCrossing, place}});
  if (!is_marked(value_, place)) frame_.state.canvas.to_select = mark;
}

}  // namespace potshadow

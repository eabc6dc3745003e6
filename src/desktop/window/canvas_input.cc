// SPDX-License-Identifier: MIT
#include "desktop/window/canvas_input.h"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "desktop/canvas/block_lines.h"
#include "desktop/canvas/corner_edges.h"
#include "desktop/canvas/picking.h"
#include "desktop/window/kit.h"
#include "desktop/window/trace_input.h"
#include "outline/snap.h"

namespace potshadow {
namespace {

constexpr double kReach = 9.0;       // of a mark, in window pixels at 100 %
constexpr double kDragStarts = 3.0;  // the pointer may tremble by so much
constexpr double kWheelStep = 1.2;   // zoom of one notch
constexpr double kNudgesJoin = 1.5;  // seconds between nudges of one undo step
constexpr double kLeastLine = 20.0;  // between two marks of a line, in window pixels at 100 %
constexpr std::size_t kCorners = 4;
constexpr std::size_t kEnds = 2;  // of a length, and of the shelf's line

bool in_picture(PhotoPoint p, PictureSize size) {
  return p.x_px >= -0.5 && p.y_px >= -0.5 && p.x_px <= size.width_px - 0.5 &&
         p.y_px <= size.height_px - 0.5;
}

PhotoPoint snapped(const Frame& frame, PhotoPoint at) {
  const auto& picture = frame.session.photo().picture;
  if (!picture || !frame.state.canvas.snap_new_marks) return at;
  const auto edge = snap_to_edge(*picture, at, snap_reach(frame));
  return edge ? edge->at : at;
}

// Returns why no mark can be put in, or nothing.
bool tool_is_full(Frame& frame) {
  const Tool& tool = frame.state.tool;
  if (tool.mark != MarkKind::kReference) return false;
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr || tool.reference >= photo->references.size()) {
    kit::complain(frame, "There is no reference to mark yet.",
                  "Choose one in the Reference step first.");
    return true;
  }
  const MarkPart part = part_of_tool(frame);
  const std::size_t marked =
      marks_in(frame.document(), {frame.state.photo, {tool.mark, tool.reference, 0}}, part);
  if (part == MarkPart::kVessel) {
    kit::complain(frame, "The chosen reference has nothing to mark.",
                  "Choose another in the Reference step, or one of the vessel's own marks.");
  } else if (part == MarkPart::kCorner && marked >= kCorners) {
    kit::complain(frame, "All four corners are marked.", "Drag a corner to move it.");
  } else if (part == MarkPart::kEnd && marked >= kEnds) {
    kit::complain(frame, "Both ends are marked.", "Drag an end to move it.");
  } else if (part == MarkPart::kCrossing &&
             photo->references[tool.reference].corners.size() != kCorners) {
    kit::complain(frame, "The block's corners are not all marked yet.",
                  "Mark all four first: the crossings are counted from them.");
  } else {
    return false;
  }
  return true;
}

// Whether a part of that many marks takes no more.
bool is_whole(MarkPart part, std::size_t count) {
  return (part == MarkPart::kCorner && count >= kCorners) ||
         (part == MarkPart::kEnd && count >= kEnds);
}

void press(Frame& frame, ScreenPoint at) {
  CanvasWork& work = frame.state.canvas;
  const ImGuiIO& io = ImGui::GetIO();
  const PictureSize size = shown_size(frame);
  work.grip_from = at;
  work.grip_last = at;
  work.dragging_new = false;
  if (frame.state.tool.kind == ToolKind::kTrace) {
    trace_press(frame, at);
    return;
  }
  const bool marking = frame.state.tool.kind == ToolKind::kMark;
  if (work.hovered && !(marking && io.KeyCtrl)) {
    auto& selection = work.selection;
    const auto found = std::find(selection.begin(), selection.end(), *work.hovered);
    if (io.KeyShift || (io.KeyCtrl && !marking)) {
      if (found == selection.end()) {
        selection.push_back(*work.hovered);
      } else {
        selection.erase(found);
      }
      return;
    }
    if (found == selection.end()) selection = {*work.hovered};
    const MarkPlace& place = work.hovered->place;
    const bool choosing =
        frame.state.step == Step::kReference && frame.state.tool.kind == ToolKind::kSelect;
    if (choosing && place.kind == MarkKind::kReference) frame.state.reference = place.reference;
    work.drag_from.clear();
    for (const MarkId& mark : still_there(frame.document(), selection)) {
      work.drag_from.emplace_back(mark, *point_at(frame.document(), mark));
    }
    work.grip = Grip::kDrag;
    return;
  }
  const PhotoPoint place = work.transform.to_photo(at);
  if (marking && in_picture(place, size)) {
    if (tool_is_full(frame)) return;
    work.grip = Grip::kPress;
    work.dragging_new = true;
    work.grip_last = {-1e9, -1e9};  // so that the mark shows at once
    return;
  }
  if (collects(frame.state.tool) && in_picture(place, size)) {
    work.grip = Grip::kPress;
    return;
  }
  if (!io.KeyShift) work.selection.clear();
  work.grip = Grip::kBox;
}

void finish_edges(Frame& frame) {
  CanvasWork& work = frame.state.canvas;
  const std::size_t index = frame.state.tool.reference;
  const ProjectPhoto* const photo = frame.photo();
  const auto corners = corners_of_edges(work.edge_points);
  work.edge_points.clear();
  frame.state.tool = Tool{};
  if (photo == nullptr || index >= photo->references.size()) return;
  if (!corners) {
    kit::complain(frame, "Those edges do not meet in four corners.",
                  "Mark two points on each edge, going round: lower edge, right, upper, left.");
    return;
  }
  ProjectReference reference = photo->references[index];
  reference.corners.assign(corners->begin(), corners->end());
  frame.ask(Perform{SetReference{frame.state.photo, index, std::move(reference)}});
}

void finish_shelf_line(Frame& frame) {
  CanvasWork& work = frame.state.canvas;
  const std::size_t index = frame.state.tool.reference;
  const ProjectPhoto* const photo = frame.photo();
  const std::vector<PhotoPoint> points = std::exchange(work.edge_points, {});
  frame.state.tool = Tool{};
  if (photo == nullptr || index >= photo->references.size()) return;
  const double apart = std::hypot(points[1].x_px - points[0].x_px, points[1].y_px - points[0].y_px);
  if (!(apart * work.transform.scale() > frame.look.px(kLeastLine))) {
    kit::complain(frame, "Those two points lie too near each other to show a line.",
                  "Mark two points of the line that lie well apart.");
    return;
  }
  ProjectReference reference = photo->references[index];
  reference.shelf_at_glass = std::array{points[0], points[1]};
  frame.ask(Perform{SetReference{frame.state.photo, index, std::move(reference)}});
}

void finish_collecting(Frame& frame) {
  const std::size_t count = frame.state.canvas.edge_points.size();
  const ToolKind kind = frame.state.tool.kind;
  if (kind == ToolKind::kEdges && count >= 2 * kCorners) finish_edges(frame);
  if (kind == ToolKind::kShelfLine && count >= kEnds) finish_shelf_line(frame);
}

void hold(Frame& frame, ScreenPoint at) {
  CanvasWork& work = frame.state.canvas;
  const PictureSize size = shown_size(frame);
  const bool moved = !(at == work.grip_last);
  switch (work.grip) {
    case Grip::kPan:
      work.transform.pan(at.x - work.grip_last.x, at.y - work.grip_last.y, size,
                         {work.box.left, work.box.top, work.box.width, work.box.height});
      break;
    case Grip::kPress: {
      const PhotoPoint place = inside_picture(work.transform.to_photo(at), size);
      work.magnified = snapped(frame, place);
      if (moved && work.dragging_new) {
        AddMark add = add_mark_of_tool(frame, *work.magnified);
        if (work.pressed_mark) add.mark = *work.pressed_mark;
        work.pressed_mark = add.mark;
        frame.ask(Preview{add});
      }
      break;
    }
    case Grip::kDrag: {
      if (!work.drag_moved && std::hypot(at.x - work.grip_from.x, at.y - work.grip_from.y) <
                                  frame.look.px(kDragStarts)) {
        return;
      }
      work.drag_moved = true;
      if (!moved) break;
      const double dx = (at.x - work.grip_from.x) / work.transform.scale();
      const double dy = (at.y - work.grip_from.y) / work.transform.scale();
      MoveMarks move;
      for (const auto& [mark, from] : work.drag_from) {
        move.moves.emplace_back(mark, inside_picture({from.x_px + dx, from.y_px + dy}, size));
        if (mark == work.hovered || work.drag_from.size() == 1) {
          work.magnified = move.moves.back().second;
        }
      }
      work.last_move = move;
      frame.ask(Preview{std::move(move)});
      break;
    }
    case Grip::kStroke:
      trace_hold(frame, at);
      break;
    case Grip::kBox:
    case Grip::kNone:
      break;
  }
  work.grip_last = at;
}

void release(Frame& frame, ScreenPoint at) {
  CanvasWork& work = frame.state.canvas;
  const Grip grip = std::exchange(work.grip, Grip::kNone);
  switch (grip) {
    case Grip::kPress: {
      const PhotoPoint place = inside_picture(work.transform.to_photo(at), shown_size(frame));
      if (!work.dragging_new) {
        work.edge_points.push_back(snapped(frame, place));
        finish_collecting(frame);
        break;
      }
      AddMark add = add_mark_of_tool(frame, snapped(frame, place));
      if (work.pressed_mark) add.mark = *work.pressed_mark;
      frame.ask(Perform{add});
      work.selection = {add.mark};
      if (is_whole(add.part, add.mark.place.number + 1)) frame.state.tool = Tool{};
      break;
    }
    case Grip::kDrag:
      if (work.drag_moved && work.last_move) {
        frame.ask(Perform{std::move(*work.last_move)});
      } else {
        frame.ask(EndPreview{});
      }
      break;
    case Grip::kStroke:
      trace_release(frame, at);
      break;
    case Grip::kBox: {
      if (frame.state.tool.kind == ToolKind::kTrace) {
        trace_release(frame, at);
        break;
      }
      auto inside =
          marks_within(frame.document(), frame.state.photo, work.transform, work.grip_from, at);
      for (const MarkId& mark : inside) {
        if (std::find(work.selection.begin(), work.selection.end(), mark) == work.selection.end()) {
          work.selection.push_back(mark);
        }
      }
      break;
    }
    case Grip::kPan:
    case Grip::kNone:
      break;
  }
  work.dragging_new = false;
  work.drag_moved = false;
  work.pressed_mark.reset();
  work.last_move.reset();
}

}  // namespace

PictureSize shown_size(const Frame& frame) {
  const auto& shown = frame.session.photo().shown;
  if (!shown) return {};
  return {shown->width_px(), shown->height_px()};
}

MarkId next_of_tool(const Frame& frame) {
  MarkId mark{frame.state.photo, {frame.state.tool.mark, frame.state.tool.reference, 0}};
  if (mark.place.kind != MarkKind::kReference) mark.place.reference = 0;
  return next_in(frame.document(), mark, part_of_tool(frame));
}

MarkPart part_of_tool(const Frame& frame) {
  const Tool& tool = frame.state.tool;
  const ProjectPhoto* const photo = frame.photo();
  if (tool.kind != ToolKind::kMark || tool.mark != MarkKind::kReference || photo == nullptr ||
      tool.reference >= photo->references.size()) {
    return MarkPart::kVessel;
  }
  if (tool.part != MarkPart::kVessel) return tool.part;
  return first_part(photo->references[tool.reference]);
}

AddMark add_mark_of_tool(const Frame& frame, PhotoPoint at) {
  const Tool& tool = frame.state.tool;
  AddMark add{next_of_tool(frame), at, part_of_tool(frame)};
  const ProjectPhoto* const photo = frame.photo();
  if (add.part != MarkPart::kCrossing || photo == nullptr) return add;
  const ProjectReference& grid = photo->references[tool.reference];
  // Beyond the horizon there is none: that of a corner will not do.
  add.crossing = crossing_near(grid.corners, grid.columns, grid.rows, at).value_or(GridPlace{});
  return add;
}

bool collects(const Tool& tool) {
  return tool.kind == ToolKind::kEdges || tool.kind == ToolKind::kShelfLine;
}

Px snap_reach(const Frame& frame) {
  return Px{std::clamp(frame.look.px(12) / frame.state.canvas.transform.scale(), 2.0, 30.0)};
}

void canvas_input(Frame& frame, ScreenBox box, bool pointed) {
  CanvasWork& work = frame.state.canvas;
  const ImGuiIO& io = ImGui::GetIO();
  const PictureSize size = shown_size(frame);
  const ScreenPoint at{io.MousePos.x, io.MousePos.y};
  work.box = box;
  if (frame.state.step != Step::kOutline && frame.state.tool.kind == ToolKind::kTrace) {
    frame.state.tool = Tool{};
    work.grip = Grip::kNone;
  }
  work.pointed = pointed;
  work.selection = still_there(frame.document(), std::move(work.selection));
  if (work.to_select && point_at(frame.document(), *work.to_select)) {
    select_mark(frame, *std::exchange(work.to_select, std::nullopt));
  }
  if (size.width_px == 0) {
    work.grip = Grip::kNone;
    work.hovered.reset();
    return;
  }
  if (pointed && io.MouseWheel != 0.0F && work.grip != Grip::kDrag) {
    work.transform.zoom(std::pow(kWheelStep, io.MouseWheel), at, size, box);
  }
  if (work.grip == Grip::kNone) {
    const bool tracing = frame.state.tool.kind == ToolKind::kTrace;
    work.hovered.reset();
    work.left_out.reset();
    if (pointed && !tracing) {
      work.left_out = stretch_at(frame, at);
      std::optional<MarkKind> favoured;
      if (frame.state.tool.kind == ToolKind::kMark) favoured = frame.state.tool.mark;
      work.hovered = mark_near(frame.document(), frame.state.photo, work.transform, at,
                               frame.look.px(kReach), favoured);
    }
    // The magnifier follows the pointer while marking, the marks while nudging.
    const bool marking = frame.state.tool.kind != ToolKind::kSelect && !tracing;
    const bool nudging = frame.state.now - work.nudged_at < kNudgeShows;
    if (marking && pointed && in_picture(work.transform.to_photo(at), size)) {
      if (!nudging) work.magnified = work.transform.to_photo(at);
    } else if (!nudging) {
      work.magnified.reset();
    }
    if (pointed) {
      const bool pan_key = io.KeysDown[GLFW_KEY_SPACE];
      if (ImGui::IsMouseClicked(ImGuiMouseButton_Middle) ||
          ImGui::IsMouseClicked(ImGuiMouseButton_Right) ||
          (pan_key && ImGui::IsMouseClicked(ImGuiMouseButton_Left))) {
        work.grip = Grip::kPan;
        work.grip_from = work.grip_last = at;
      } else if (ImGui::IsMouseClicked(ImGuiMouseButton_Left)) {
        work.nudged_at = -1e9;
        press(frame, at);
      }
    }
  }
  if (work.grip != Grip::kNone) {
    const bool down = io.MouseDown[0] || io.MouseDown[1] || io.MouseDown[2];
    if (down) {
      hold(frame, at);
    } else {
      release(frame, at);
    }
  }
}

void select_mark(Frame& frame, const MarkId& mark) {
  std::optional<PhotoPoint> at = point_at(frame.document(), mark);
  CanvasWork& work = frame.state.canvas;
  work.selection.clear();
  if (at) {
    work.selection = {mark};
  } else {
    at = traced_point_at(frame.document(), mark);
    if (!at) return;
  }
  work.magnified = *at;
  work.nudged_at = frame.state.now;
  work.transform.reveal(*at, work.box, frame.look.px(40));
}

void nudge_selection(Frame& frame, double dx_px, double dy_px) {
  CanvasWork& work = frame.state.canvas;
  const PictureSize size = shown_size(frame);
  MoveMarks move;
  for (const MarkId& mark : still_there(frame.document(), work.selection)) {
    const PhotoPoint from = *point_at(frame.document(), mark);
    move.moves.emplace_back(mark, inside_picture({from.x_px + dx_px, from.y_px + dy_px}, size));
  }
  if (move.moves.empty() || size.width_px == 0) return;
  work.magnified = move.moves.back().second;
  const bool joins = frame.state.now - work.nudged_at < kNudgesJoin;
  work.nudged_at = frame.state.now;
  frame.ask(Perform{std::move(move), joins});
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "desktop/window/trace_input.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "desktop/canvas/trace_brush.h"
#include "desktop/window/canvas_input.h"
#include "desktop/window/kit.h"

namespace potshadow {
namespace {

constexpr double kLeastBox = 8.0;  // window pixels at 100 %: less is a click
constexpr double kBrushStep = 1.25;
constexpr double kStretchReach = 7.0;  // of the pointer, in window pixels at 100 %

PhotoPoint on_photo(const Frame& frame, ScreenPoint at) {
  return inside_picture(frame.state.canvas.transform.to_photo(at), shown_size(frame));
}

void finish_box(Frame& frame, ScreenPoint at) {
  const CanvasWork& work = frame.state.canvas;
  const double least = frame.look.px(kLeastBox);
  if (std::abs(at.x - work.grip_from.x) < least || std::abs(at.y - work.grip_from.y) < least) {
    kit::complain(frame, "That is no box, so nothing was looked for.",
                  "Hold the button down and drag from one corner of the vessel to the other.");
    return;
  }
  ProjectTrace wanted;
  wanted.box = {on_photo(frame, work.grip_from), on_photo(frame, at)};
  const ProjectPhoto* const photo = frame.photo();
  if (photo != nullptr && photo->trace) wanted.kept = photo->trace->kept;
  frame.state.tool = Tool{};
  frame.ask(TraceVessel{std::move(wanted)});
}

void finish_painting(Frame& frame, std::vector<PhotoPoint> points) {
  const ProjectTrace* const mended = trace_to_mend(frame);
  if (mended == nullptr) return;
  ProjectTrace wanted = *mended;
  wanted.strokes.push_back({frame.state.tool.trace == TraceTool::kPaintVessel,
                            brush_width_px(frame), std::move(points)});
  frame.ask(TraceVessel{std::move(wanted)});
}

// The command that takes the marks under the stroke away; nothing where there are none.
std::optional<SetTrace> rubbing(const Frame& frame) {
  // As it is without this stroke, not as the preview has it.
  const Document& document = frame.session.history().document();
  if (frame.state.photo >= document.photos.size()) return std::nullopt;
  const std::optional<ProjectTrace>& trace = document.photos[frame.state.photo].trace;
  if (!trace) return std::nullopt;
  ProjectTrace left = rubbed_out(*trace, frame.state.canvas.stroke, brush_width_px(frame));
  if (left == *trace) return std::nullopt;
  return SetTrace{frame.state.photo, std::move(left)};
}

void finish_rubbing(Frame& frame) {
  if (auto rub = rubbing(frame)) {
    frame.ask(Perform{std::move(*rub)});
    return;
  }
  frame.ask(EndPreview{});
  kit::say(frame, "There are no found marks there.");
}

}  // namespace

const ProjectTrace* trace_to_mend(const Frame& frame) {
  const TraceWork& work = frame.session.trace_work();
  if (work.wanted && work.photo == frame.state.photo) return &*work.wanted;
  const ProjectPhoto* const photo = frame.photo();
  return photo != nullptr && photo->trace ? &*photo->trace : nullptr;
}

std::string trace_tool_reason(const Frame& frame, TraceTool tool) {
  if (frame.session.photo().picture == nullptr) {
    return "The photograph is needed to find the outline on it.";
  }
  const ProjectPhoto* const photo = frame.photo();
  if (tool == TraceTool::kRubOut && (photo == nullptr || !photo->trace)) {
    return "Nothing has been found yet that could be rubbed out.";
  }
  if (tool != TraceTool::kBox && trace_to_mend(frame) == nullptr) {
    return "There is no box round the vessel yet to paint in.";
  }
  return "";
}

void use_trace_tool(Frame& frame, TraceTool tool) {
  const std::string reason = trace_tool_reason(frame, tool);
  if (!reason.empty()) {
    kit::complain(frame, reason, "Press 'Find the outline' and drag a box round the vessel.");
    return;
  }
  frame.state.step = Step::kOutline;
  frame.state.middle = Middle::kPhoto;
  frame.state.tool = {.kind = ToolKind::kTrace, .trace = tool};
  frame.state.canvas.edge_points.clear();
  frame.state.canvas.selection.clear();
}

void change_brush(Frame& frame, bool wider) {
  double& brush = frame.state.canvas.brush;
  brush = std::clamp(std::round(wider ? brush * kBrushStep : brush / kBrushStep), kLeastBrush,
                     kMostBrush);
}

double brush_width_px(const Frame& frame) {
  return frame.look.px(frame.state.canvas.brush) / frame.state.canvas.transform.scale();
}

void trace_press(Frame& frame, ScreenPoint at) {
  CanvasWork& work = frame.state.canvas;
  const TraceTool tool = frame.state.tool.trace;
  if (tool == TraceTool::kBox) {
    work.grip = Grip::kBox;
    return;
  }
  if (!trace_tool_reason(frame, tool).empty()) {
    frame.state.tool = Tool{};  // undo has taken away what it works on
    return;
  }
  work.stroke.clear();
  work.grip = Grip::kStroke;
  trace_hold(frame, at);
}

void trace_hold(Frame& frame, ScreenPoint at) {
  CanvasWork& work = frame.state.canvas;
  const std::size_t before = work.stroke.size();
  extend_stroke(work.stroke, on_photo(frame, at), brush_width_px(frame));
  if (frame.state.tool.trace != TraceTool::kRubOut || work.stroke.size() == before) return;
  if (auto rub = rubbing(frame)) frame.ask(Preview{std::move(*rub)});
}

void trace_release(Frame& frame, ScreenPoint at) {
  CanvasWork& work = frame.state.canvas;
  if (frame.state.tool.trace == TraceTool::kBox) {
    finish_box(frame, at);
    return;
  }
  extend_stroke(work.stroke, on_photo(frame, at), brush_width_px(frame));
  if (frame.state.tool.trace == TraceTool::kRubOut) {
    finish_rubbing(frame);
    work.stroke.clear();
  } else {
    finish_painting(frame, std::exchange(work.stroke, {}));
  }
}

std::optional<std::size_t> stretch_at(const Frame& frame, ScreenPoint at) {
  const ProjectPhoto* const photo = frame.photo();
  if (frame.state.step != Step::kOutline || photo == nullptr || !photo->trace) return std::nullopt;
  const PhotoTransform& transform = frame.state.canvas.transform;
  return doubtful_near(*photo->trace, transform.to_photo(at),
                       frame.look.px(kStretchReach) / transform.scale());
}

}  // namespace potshadow

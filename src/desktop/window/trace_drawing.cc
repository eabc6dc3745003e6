// SPDX-License-Identifier: MIT
#include "desktop/window/trace_drawing.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "desktop/window/canvas_drawing.h"
#include "desktop/window/mark_glyph.h"
#include "desktop/window/trace_input.h"
#include "project/join_trace.h"

namespace potshadow {
namespace {

constexpr Colour kOchre{255, 196, 60};
constexpr Colour kLight{250, 245, 236};

// Marks whose neighbours are nearer than this in the window, at 100 %, are drawn as a faint line;
// those that are farther apart than the second as whole dots.
constexpr double kCrowded = 2.0;
constexpr double kApart = 12.0;

// The middle one of the distances from mark to mark.
float typical_spacing(const std::vector<ImVec2>& marks) {
  std::vector<float> steps;
  for (std::size_t i = 1; i < marks.size(); ++i) {
    steps.push_back(std::hypot(marks[i].x - marks[i - 1].x, marks[i].y - marks[i - 1].y));
  }
  if (steps.empty()) return 1e6F;
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return *middle;
}

void draw_dots(const Frame& frame, ImDrawList& list, const std::vector<ImVec2>& marks,
               MarkKind kind) {
  const float spacing = typical_spacing(marks);
  const double whole = std::clamp(
      (spacing - frame.look.px(kCrowded)) / frame.look.px(kApart - kCrowded), 0.0F, 1.0F);
  const float radius = frame.look.px(1.0 + 1.2 * whole);
  const ImU32 halo = paint(kHalo, 0.35 + 0.35 * whole);
  const ImU32 ink = paint(mark_colour(kind), 0.65 + 0.35 * whole);
  for (const ImVec2& at : marks) {
    list.AddCircleFilled(at, radius + frame.look.px(0.5 + 0.5 * whole), halo, 8);
  }
  for (const ImVec2& at : marks) list.AddCircleFilled(at, radius, ink, 8);
}

void draw_counting_marks(const Frame& frame, ImDrawList& list, const ProjectPhoto& photo) {
  const Marks joined = joined_marks(photo);
  const auto draw = [&](const std::vector<PhotoPoint>& all, std::size_t by_hand, MarkKind kind) {
    const auto first = all.begin() + static_cast<std::ptrdiff_t>(by_hand);
    draw_dots(frame, list, on_screen(frame, std::vector<PhotoPoint>(first, all.end())), kind);
  };
  draw(joined.rim, photo.marks.rim.size(), MarkKind::kRim);
  draw(joined.base, photo.marks.base.size(), MarkKind::kBase);
  draw(joined.left, photo.marks.left.size(), MarkKind::kLeft);
  draw(joined.right, photo.marks.right.size(), MarkKind::kRight);
}

// What is found so far: dots, not yet marks that count.
void draw_rough(const Frame& frame, ImDrawList& list, const ProjectTrace& rough) {
  const auto draw = [&](const std::vector<TracedPoint>& all, MarkKind kind) {
    std::vector<PhotoPoint> points;
    points.reserve(all.size());
    for (const TracedPoint& point : all) points.push_back(point.at);
    draw_dots(frame, list, on_screen(frame, points), kind);
  };
  draw(rough.rim, MarkKind::kRim);
  draw(rough.base, MarkKind::kBase);
  draw(rough.left, MarkKind::kLeft);
  draw(rough.right, MarkKind::kRight);
}

void draw_left_out(const Frame& frame, ImDrawList& list, const ProjectTrace& trace) {
  for (std::size_t i = 0; i < trace.doubtful.size(); ++i) {
    const std::vector<ImVec2> path = on_screen(frame, trace.doubtful[i].points);
    const float width = frame.look.px(frame.state.canvas.left_out == i ? 3.2 : 1.8);
    if (path.size() == 1) list.AddCircle(path[0], frame.look.px(3), paint(kOchre), 12, width);
    haloed_path(list, path.data(), static_cast<int>(path.size()), paint(kOchre), width,
                frame.look.px(5));
  }
}

void draw_box(const Frame& frame, ImDrawList& list, const ProjectTrace& trace) {
  const ImVec2 a = on_screen(frame, trace.box[0]);
  const ImVec2 b = on_screen(frame, trace.box[1]);
  const ImVec2 low(std::min(a.x, b.x), std::min(a.y, b.y));
  const ImVec2 high(std::max(a.x, b.x), std::max(a.y, b.y));
  list.AddRect(low, high, paint(kHalo, 0.25), 0.0F, 0, frame.look.px(3));
  list.AddRect(low, high, paint(kLight, 0.45), 0.0F, 0, frame.look.px(1));
}

// Light over what is vessel, dark over what is not, ochre where marks are rubbed out.
ImU32 stroke_ink(TraceTool tool) {
  if (tool == TraceTool::kRubOut) return paint(kOchre, 0.35);
  return tool == TraceTool::kPaintVessel ? paint(kLight, 0.40) : paint(kHalo, 0.55);
}

void draw_stroke(const Frame& frame, ImDrawList& list, const std::vector<PhotoPoint>& points,
                 double width_px, TraceTool tool) {
  const std::vector<ImVec2> path = on_screen(frame, points);
  const auto width = static_cast<float>(width_px * frame.state.canvas.transform.scale());
  const ImU32 ink = stroke_ink(tool);
  if (path.size() == 1) list.AddCircleFilled(path[0], 0.5F * width, ink);
  list.AddPolyline(path.data(), static_cast<int>(path.size()), ink, 0, width);
}

bool painting(const Tool& tool) {
  return tool.kind == ToolKind::kTrace &&
         (tool.trace == TraceTool::kPaintVessel || tool.trace == TraceTool::kPaintAway);
}

}  // namespace

void draw_trace(Frame& frame, ImDrawList& list) {
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) return;
  const bool outline_step = frame.state.step == Step::kOutline;
  if (const ProjectTrace* const mended = trace_to_mend(frame); mended != nullptr && outline_step) {
    draw_box(frame, list, *mended);
    if (painting(frame.state.tool)) {
      for (const ProjectTrace::Stroke& stroke : mended->strokes) {
        draw_stroke(frame, list, stroke.points, stroke.width_px,
                    stroke.vessel ? TraceTool::kPaintVessel : TraceTool::kPaintAway);
      }
    }
  }
  const TraceWork& work = frame.session.trace_work();
  if (work.rough != nullptr && work.photo == frame.state.photo) {
    draw_rough(frame, list, *work.rough);
    return;
  }
  if (!photo->trace) return;
  draw_counting_marks(frame, list, *photo);
  if (outline_step) draw_left_out(frame, list, *photo->trace);
}

void draw_brush(Frame& frame, ImDrawList& list) {
  const Tool& tool = frame.state.tool;
  const CanvasWork& work = frame.state.canvas;
  if (tool.kind != ToolKind::kTrace || tool.trace == TraceTool::kBox) return;
  if (!work.stroke.empty()) {
    draw_stroke(frame, list, work.stroke, brush_width_px(frame), tool.trace);
  }
  if (!work.pointed) return;
  const ImVec2 at = ImGui::GetIO().MousePos;
  const float radius = frame.look.px(0.5 * work.brush);
  list.AddCircle(at, radius, paint(kHalo, 0.7), 0, frame.look.px(3));
  list.AddCircle(at, radius, paint(kLight), 0, frame.look.px(1.2));
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "desktop/window/canvas_drawing.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <vector>

#include "core/typed_number.h"
#include "desktop/canvas/block_lines.h"
#include "desktop/canvas/drawn_places.h"
#include "desktop/canvas/picking.h"
#include "desktop/document/shown_photo.h"
#include "desktop/window/hard_edges.h"
#include "desktop/window/mark_glyph.h"
#include "desktop/window/staleness.h"
#include "desktop/words/figure_text.h"
#include "geometry/conic.h"

namespace potshadow {
namespace {

constexpr double kMarkRadius = 5.0;  // at 100 %

const PhotoAnswer* shown_answer(const Frame& frame, const Measurement& measurement) {
  return answer_of_photo(measurement, frame.document(), frame.state.photo);
}

// The latest figures, where they are of the photograph that is shown.
const Measurement* shown_measurement(const Frame& frame) {
  const auto& measurement = frame.session.figures().measurement;
  if (measurement == nullptr || shown_answer(frame, *measurement) == nullptr) return nullptr;
  return measurement.get();
}

// Whether a mark of the measured document was traced: those are numbered on after the hand's.
bool is_traced(const Document& document, const MarkId& mark) {
  return mark.place.kind != MarkKind::kReference &&
         mark.place.number >= marks_in(document, mark, MarkPart::kVessel);
}

ImU32 fit_ink(const Frame& frame, double opacity = 1.0) {
  return paint(greyed(frame.session.figures()) ? kFittedStale : kFitted, opacity);
}

void draw_path(const Frame& frame, ImDrawList& list, const std::vector<PhotoPoint>& points,
               ImU32 ink, double width, bool hidden) {
  const std::vector<ImVec2> path = on_screen(frame, points);
  haloed_path(list, path.data(), static_cast<int>(path.size()), ink, frame.look.px(width),
              hidden ? frame.look.px(6) : 0.0F, !hidden);
}

void draw_ellipse_through(const Frame& frame, ImDrawList& list,
                          const std::vector<PhotoPoint>& marks, ImU32 ink) {
  if (marks.size() < 5) return;
  std::vector<Eigen::Vector2d> points;
  for (const PhotoPoint& mark : marks) points.emplace_back(mark.x_px, mark.y_px);
  const auto conic = fit_ellipse(points);
  if (!conic) return;
  const auto ellipse = ellipse_of(*conic);
  if (!ellipse) return;
  constexpr int kSteps = 96;
  std::vector<ImVec2> path;
  const double c = std::cos(ellipse->angle.value);
  const double s = std::sin(ellipse->angle.value);
  for (int i = 0; i <= kSteps; ++i) {
    const double t = 2.0 * 3.141592653589793 * i / kSteps;
    const double u = ellipse->semi_major * std::cos(t);
    const double v = ellipse->semi_minor * std::sin(t);
    path.push_back(on_screen(
        frame, {ellipse->centre.x() + c * u - s * v, ellipse->centre.y() + s * u + c * v}));
  }
  haloed_path(list, path.data(), static_cast<int>(path.size()), ink, frame.look.px(1.2), 0.0F);
}

// An arrowless dimension line with short ticks across its ends.
void draw_dimension(Frame& frame, ImDrawList& list, const DimensionLine& line,
                    const std::string& text, bool lit) {
  const ImVec2 from = on_screen(frame, line.from);
  const ImVec2 to = on_screen(frame, line.to);
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (!(length > 1.0F)) return;
  const ImVec2 along((to.x - from.x) / length, (to.y - from.y) / length);
  const ImVec2 across(-along.y * frame.look.px(5), along.x * frame.look.px(5));
  const ImU32 ink = lit ? fit_ink(frame) : paint(Colour{250, 245, 236}, 0.92);
  const float width = frame.look.px(lit ? 2.2 : 1.2);
  haloed_line(list, from, to, ink, width);
  for (const ImVec2& end : {from, to}) {
    haloed_line(list, ImVec2(end.x - across.x, end.y - across.y),
                ImVec2(end.x + across.x, end.y + across.y), ink, width);
  }
  const ImVec2 middle(0.5F * (from.x + to.x), 0.5F * (from.y + to.y));
  const bool upright = std::abs(to.y - from.y) > std::abs(to.x - from.x);
  if (upright) {
    // Beside the line, where it covers nothing of the vessel.
    draw_tag(frame, list, ImVec2(middle.x + frame.look.px(14), middle.y), text, false);
  } else {
    draw_tag(frame, list, middle, text, true);
  }
}

// What is marked of a reference so far, joined: its corners with the joints of a grid, the ends of
// a length, the line where shelf and pane meet.
void draw_reference_lines(const Frame& frame, ImDrawList& list, const ProjectReference& reference) {
  const ImU32 ink = paint(mark_colour(MarkKind::kReference), 0.8);
  std::vector<PhotoPoint> path = reference.kind == "length" ? reference.ends : reference.corners;
  if (path.size() == 4) path.push_back(path.front());
  draw_path(frame, list, path, ink, 1.0, false);
  if (reference.kind == "grid") {
    for (const auto& line : block_lines(reference.corners, reference.columns, reference.rows)) {
      draw_path(frame, list, {line[0], line[1]}, paint(mark_colour(MarkKind::kReference), 0.6), 1.0,
                false);
    }
  }
  if (reference.place == "on-glass" && reference.shelf_at_glass) {
    const auto& line = *reference.shelf_at_glass;
    draw_path(frame, list, {line[0], line[1]}, ink, 1.0, true);
  }
}

// The number of a corner or an end, on its outer side.
void draw_number(Frame& frame, ImDrawList& list, const MarkId& mark,
                 const ProjectReference& reference) {
  const std::vector<PhotoPoint>& points =
      reference.kind == "length" ? reference.ends : reference.corners;
  PhotoPoint middle;
  for (const PhotoPoint& point : points) {
    middle.x_px += point.x_px / static_cast<double>(points.size());
    middle.y_px += point.y_px / static_cast<double>(points.size());
  }
  const ImVec2 at = on_screen(frame, points[mark.place.number]);
  const ImVec2 inside = on_screen(frame, middle);
  const float away = std::max(1.0F, std::hypot(at.x - inside.x, at.y - inside.y));
  const float step = points.size() < 2 ? 0.0F : frame.look.px(20) / away;
  draw_tag(frame, list, ImVec2(at.x + step * (at.x - inside.x), at.y + step * (at.y - inside.y)),
           std::to_string(mark.place.number + 1), true);
}

// Beside a further crossing of a grid: how many lines it is across and up from corner 1.
void draw_grid_place(Frame& frame, ImDrawList& list, ImVec2 at,
                     const ProjectReference::Crossing& crossing) {
  draw_tag(frame, list, ImVec2(at.x, at.y - frame.look.px(20)),
           std::to_string(crossing.column) + ", " + std::to_string(crossing.row), true);
}

// Where there are several references, what each is called, below the lowest of its marks.
void draw_reference_names(Frame& frame, ImDrawList& list, const ProjectPhoto& photo) {
  if (photo.references.size() < 2) return;
  std::map<std::size_t, PhotoPoint> lowest;
  for (const MarkId& mark : marks_of(frame.document(), frame.state.photo)) {
    if (mark.place.kind != MarkKind::kReference) continue;
    if (part_of(frame.document(), mark) == MarkPart::kShelfLine) continue;
    const PhotoPoint at = *point_at(frame.document(), mark);
    const auto found = lowest.emplace(mark.place.reference, at).first;
    if (at.y_px > found->second.y_px) found->second = at;
  }
  for (const auto& [index, at] : lowest) {
    const ImVec2 place = on_screen(frame, at);
    draw_tag(frame, list, ImVec2(place.x, place.y + frame.look.px(38)),
             "Reference " + std::to_string(index + 1), true);
  }
}

}  // namespace

ImVec2 on_screen(const Frame& frame, PhotoPoint point) {
  const ScreenPoint p = frame.state.canvas.transform.to_screen(point);
  return {static_cast<float>(p.x), static_cast<float>(p.y)};
}

std::vector<ImVec2> on_screen(const Frame& frame, const std::vector<PhotoPoint>& points) {
  std::vector<ImVec2> out;
  out.reserve(points.size());
  for (const PhotoPoint& point : points) out.push_back(on_screen(frame, point));
  return out;
}

void draw_tag(Frame& frame, ImDrawList& list, ImVec2 at, const std::string& text, bool centred) {
  ImFont* const font = frame.look.fonts.note;
  const ImVec2 size = font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, text.c_str());
  const ImVec2 pad(frame.look.px(5), frame.look.px(2));
  ImVec2 corner(at.x, at.y - 0.5F * size.y);
  if (centred) corner.x -= 0.5F * size.x;
  list.AddRectFilled(ImVec2(corner.x - pad.x, corner.y - pad.y),
                     ImVec2(corner.x + size.x + pad.x, corner.y + size.y + pad.y),
                     paint(kHalo, 0.78), frame.look.px(3));
  list.AddText(font, font->FontSize, corner, paint(Colour{250, 245, 236}), text.c_str());
}

void draw_fit(Frame& frame, ImDrawList& list) {
  const Measurement* const measurement = shown_measurement(frame);
  if (measurement == nullptr || !frame.state.canvas.show_fit) return;
  const Overlay& overlay = shown_answer(frame, *measurement)->overlay;
  for (const OutlineBand& run : overlay.outline) {
    // No mark can say how wide it is where it is hidden; grey lines show where the vessel was.
    if (run.hidden || greyed(frame.session.figures())) continue;
    const std::vector<ImVec2> inner = on_screen(frame, run.inner);
    const std::vector<ImVec2> outer = on_screen(frame, run.outer);
    const HardEdges hard(list);
    for (std::size_t i = 0; i + 1 < inner.size(); ++i) {
      list.AddQuadFilled(inner[i], inner[i + 1], outer[i + 1], outer[i], fit_ink(frame, 0.30));
    }
  }
  for (const OverlayLine& line : overlay.foot) {
    draw_path(frame, list, line.points, fit_ink(frame, line.hidden ? 0.7 : 1.0), 1.4, line.hidden);
  }
  for (const OverlayLine& line : overlay.rim) {
    draw_path(frame, list, line.points, fit_ink(frame, line.hidden ? 0.7 : 1.0), 1.4, line.hidden);
  }
  for (const OutlineBand& run : overlay.outline) {
    draw_path(frame, list, run.middle, fit_ink(frame, run.hidden ? 0.7 : 1.0), 1.4, run.hidden);
  }
  draw_path(frame, list, overlay.axis.points, fit_ink(frame, 0.6), 1.0, true);
  const ImU32 purple = paint(mark_colour(MarkKind::kReference));
  for (const ReferenceOverlay& reference : overlay.references) {
    std::vector<PhotoPoint> outline = reference.outline;
    if (outline.empty()) continue;
    outline.push_back(outline.front());
    draw_path(frame, list, outline, purple, 1.4, false);
    PhotoPoint middle;
    for (const PhotoPoint& point : reference.outline) {
      middle.x_px += point.x_px / static_cast<double>(reference.outline.size());
      middle.y_px += point.y_px / static_cast<double>(reference.outline.size());
    }
    const ImVec2 inside = on_screen(frame, middle);
    for (const ReferenceOverlay::Edge& edge : reference.edges) {
      const ImVec2 a = on_screen(frame, edge.from);
      const ImVec2 b = on_screen(frame, edge.to);
      const float length = std::hypot(a.x - b.x, a.y - b.y);
      if (length < frame.look.px(40)) continue;
      // Beside the edge, on its outer side, where it covers nothing of the reference.
      ImVec2 at(0.5F * (a.x + b.x), 0.5F * (a.y + b.y));
      ImVec2 out((a.y - b.y) / length, (b.x - a.x) / length);
      if (out.x * (at.x - inside.x) + out.y * (at.y - inside.y) < 0.0F)
        out = ImVec2(-out.x, -out.y);
      at.x += out.x * frame.look.px(34);
      at.y += out.y * frame.look.px(16);
      draw_tag(frame, list, at,
               typed_text(in_unit(Mm{edge.length_mm}, frame.settings.unit),
                          frame.settings.unit == LengthUnit::kMm ? 1 : 2) +
                   " " + std::string(unit_name(frame.settings.unit)),
               true);
    }
  }
}

void draw_ellipses(Frame& frame, ImDrawList& list) {
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) return;
  if (frame.state.step == Step::kOutline) {
    draw_ellipse_through(frame, list, photo->marks.rim, paint(mark_colour(MarkKind::kRim), 0.8));
  }
  if (frame.state.step == Step::kReference) {
    for (const ProjectReference& reference : photo->references) {
      const bool neighbour = reference.kind == "neighbour";
      if (!neighbour && reference.kind != "disc") continue;
      draw_ellipse_through(frame, list, neighbour ? reference.marks.rim : reference.edge,
                           paint(mark_colour(MarkKind::kReference), 0.8));
    }
  }
}

void draw_dimensions(Frame& frame, ImDrawList& list) {
  const Measurement* const measurement = shown_measurement(frame);
  if (measurement == nullptr || !frame.state.canvas.show_fit) return;
  const bool all = frame.state.step == Step::kSizes;
  const auto& pointed = frame.state.canvas.lit_size;
  // The line that the pointer is at lights its figure.
  const ImVec2 pointer = ImGui::GetIO().MousePos;
  const auto pointed_at = [&](const DimensionLine& line) {
    const ImVec2 a = on_screen(frame, line.from);
    const ImVec2 b = on_screen(frame, line.to);
    const float length = std::max(1.0F, std::hypot(b.x - a.x, b.y - a.y));
    const float along =
        ((pointer.x - a.x) * (b.x - a.x) + (pointer.y - a.y) * (b.y - a.y)) / length;
    const float across =
        ((pointer.x - a.x) * (b.y - a.y) - (pointer.y - a.y) * (b.x - a.x)) / length;
    return along >= 0.0F && along <= length && std::abs(across) <= frame.look.px(6);
  };
  const auto draw = [&](const DimensionLine& line, bool lit) {
    const MeasuredSize* const size = find_size(measurement->answer, line.name);
    if (size == nullptr) return;
    const FigureText text = length_figure(size->measured, frame.settings.unit);
    draw_dimension(
        frame, list, line,
        text.value + " ± " + text.plus_minus + " " + std::string(unit_name(frame.settings.unit)),
        lit);
  };
  for (const DimensionLine& line : shown_answer(frame, *measurement)->overlay.dimensions) {
    const bool height_line =
        line.name == SizeName::kHeightOfMax || line.name == SizeName::kHeightOfNeck;
    if (all && !height_line && line.name != pointed) draw(line, false);
    if (all && !height_line && frame.state.canvas.pointed && pointed_at(line)) {
      frame.state.canvas.hovered_size = line.name;
    }
  }
  for (const DimensionLine& line : shown_answer(frame, *measurement)->overlay.dimensions) {
    if (line.name == pointed) draw(line, true);
  }
}

void draw_whiskers(Frame& frame, ImDrawList& list) {
  const Measurement* const measurement = shown_measurement(frame);
  if (measurement == nullptr || !frame.state.canvas.show_fit || greyed(frame.session.figures())) {
    return;
  }
  if (frame.state.step != Step::kOutline && frame.state.step != Step::kReference) return;
  // Traced marks are many: only those so far off that the estimate leaves them out are shown.
  constexpr double kWild = 4.5;  // standard deviations, as in the estimate
  const Whisker* worst = nullptr;
  for (const Whisker& whisker : shown_answer(frame, *measurement)->overlay.whiskers) {
    const bool traced = is_traced(measurement->project, mark_in(*measurement, whisker.mark));
    if (traced && whisker.off_sd < kWild) continue;
    const double dx = whisker.fitted.x_px - whisker.marked.x_px;
    const double dy = whisker.fitted.y_px - whisker.marked.y_px;
    const double length = std::hypot(dx, dy);
    if (!(length > 0.0)) continue;
    if (!traced && (worst == nullptr || whisker.off_sd > worst->off_sd)) worst = &whisker;
    // One standard deviation shows as 7 pixels, but never shorter than the way itself.
    const double shown = std::max(frame.look.px(7) * std::min(whisker.off_sd, 12.0),
                                  length * frame.state.canvas.transform.scale());
    const ImVec2 from = on_screen(frame, whisker.marked);
    const ImVec2 to(from.x + static_cast<float>(shown * dx / length),
                    from.y + static_cast<float>(shown * dy / length));
    haloed_line(list, from, to,
                whisker.doubtful ? paint(Colour{255, 196, 60}) : paint(Colour{250, 245, 236}, 0.85),
                frame.look.px(whisker.doubtful ? 2.4 : 1.2));
  }
  constexpr double kWorthNaming = 2.0;  // standard deviations
  if (worst != nullptr && worst->off_sd > kWorthNaming) {
    const ImVec2 at = on_screen(frame, worst->marked);
    const double pixels = std::hypot(worst->fitted.x_px - worst->marked.x_px,
                                     worst->fitted.y_px - worst->marked.y_px);
    draw_tag(frame, list, ImVec2(at.x + frame.look.px(18), at.y - frame.look.px(16)),
             with_large_start(mark_words(frame.document(), mark_in(*measurement, worst->mark))) +
                 ", " + typed_text(pixels, 1) + " px off",
             false);
  }
}

void draw_marks(Frame& frame, ImDrawList& list) {
  const CanvasWork& work = frame.state.canvas;
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) return;
  for (const ProjectReference& reference : photo->references) {
    draw_reference_lines(frame, list, reference);
  }
  // Ten thousand marks would hide the photograph and each other, and take long to draw.
  constexpr double kApart = 0.8;  // of a mark's radius: marks of the hand lie farther apart
  DrawnPlaces places(frame.look.px(kApart * kMarkRadius) / work.transform.scale());
  const std::set<MarkId> selection(work.selection.begin(), work.selection.end());
  for (const MarkId& mark : marks_of(frame.document(), frame.state.photo)) {
    const PhotoPoint point = *point_at(frame.document(), mark);
    const bool selected = selection.contains(mark);
    const bool hovered = work.hovered && *work.hovered == mark;
    const bool on_vessel = mark.place.kind != MarkKind::kReference;
    if (on_vessel && !places.take(mark.place.kind, point) && !selected && !hovered) continue;
    const ImVec2 at = on_screen(frame, point);
    if (selected) {
      const float radius = frame.look.px(kMarkRadius + 6.0);
      list.AddCircle(at, radius, paint(kHalo, 0.8), 24, frame.look.px(3.0));
      list.AddCircle(at, radius, paint(Colour{255, 255, 255}), 24, frame.look.px(1.4));
    }
    if (on_vessel) {
      mark_glyph(list, at, frame.look.px(kMarkRadius), mark.place.kind, hovered ? 1.5 : 1.0,
                 frame.look);
      continue;
    }
    const MarkPart part = part_of(frame.document(), mark);
    reference_glyph(list, at, frame.look.px(kMarkRadius), part, hovered ? 1.5 : 1.0, frame.look);
    const bool counted = part == MarkPart::kCorner || part == MarkPart::kEnd;
    if (counted && frame.state.step == Step::kReference) {
      draw_number(frame, list, mark, photo->references[mark.place.reference]);
    }
    const auto* const crossing = crossing_of(frame.document(), mark);
    if (crossing != nullptr && frame.state.step == Step::kReference) {
      draw_grid_place(frame, list, at, *crossing);
    }
  }
  if (frame.state.step == Step::kReference) draw_reference_names(frame, list, *photo);
  const ImU32 purple = paint(mark_colour(MarkKind::kReference));
  for (std::size_t i = 0; i < work.edge_points.size(); ++i) {
    const ImVec2 at = on_screen(frame, work.edge_points[i]);
    list.AddCircleFilled(at, frame.look.px(4.5), paint(kHalo, 0.8));
    list.AddCircleFilled(at, frame.look.px(3), purple);
    if (i % 2 == 1) {
      haloed_line(list, on_screen(frame, work.edge_points[i - 1]), at, purple, frame.look.px(1.2));
    }
  }
  if (work.grip == Grip::kBox) {
    const ImVec2 a(static_cast<float>(work.grip_from.x), static_cast<float>(work.grip_from.y));
    const ImVec2 b(static_cast<float>(work.grip_last.x), static_cast<float>(work.grip_last.y));
    const ImVec2 low(std::min(a.x, b.x), std::min(a.y, b.y));
    const ImVec2 high(std::max(a.x, b.x), std::max(a.y, b.y));
    list.AddRectFilled(low, high, paint(Colour{250, 245, 236}, 0.12));
    list.AddRect(low, high, paint(Colour{250, 245, 236}, 0.9), 0.0F, 0, frame.look.px(1));
  }
}

}  // namespace potshadow

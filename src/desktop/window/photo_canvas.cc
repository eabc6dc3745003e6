// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "desktop/window/canvas_drawing.h"
#include "desktop/window/canvas_input.h"
#include "desktop/window/kit.h"
#include "desktop/window/mark_glyph.h"
#include "desktop/window/panels.h"
#include "desktop/window/trace_drawing.h"
#include "outline/snap.h"

namespace potshadow {
namespace {

constexpr double kMagnified = 9.0;  // times what the photograph is shown at
// Screen pixels for one of the photograph, at 100 %: at least, while nudging, and at most.
constexpr double kLeastMagnified = 1.5;
constexpr double kNudgeMagnified = 9.0;
constexpr double kMostMagnified = 24.0;
constexpr double kMagnifierSide = 153.0;
constexpr double kMargin = 16.0;

ImVec2 vec(ScreenPoint p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

void draw_pieces(ImDrawList& list, const std::vector<Textures::Piece>& pieces) {
  for (const Textures::Piece& piece : pieces) {
    list.AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(piece.texture)),
                  vec(piece.from), vec(piece.to),
                  ImVec2(static_cast<float>(piece.u0), static_cast<float>(piece.v0)),
                  ImVec2(static_cast<float>(piece.u1), static_cast<float>(piece.v1)));
  }
}

// Draws the surroundings of the magnified place in a corner away from it, with a cross-hair and the
// direction of the edge there.
void draw_magnifier(Frame& frame, ImDrawList& list, ScreenBox box) {
  const CanvasWork& work = frame.state.canvas;
  if (!work.magnified || !frame.session.photo().shown) return;
  const float side = frame.look.px(kMagnifierSide);
  const float margin = frame.look.px(kMargin);
  if (box.width < 2.5 * side || box.height < 2.0 * side) return;
  const ScreenPoint at = work.transform.to_screen(*work.magnified);
  // Upper right, or upper left where the place is near it.
  const bool to_left = at.x > box.left + 0.5 * box.width;
  const ScreenBox glass{to_left ? box.left + margin : box.left + box.width - margin - side,
                        box.top + margin, side, side};
  const ImVec2 from = vec({glass.left, glass.top});
  const ImVec2 to = vec({glass.left + side, glass.top + side});
  const ImVec2 middle(0.5F * (from.x + to.x), 0.5F * (from.y + to.y));
  list.AddRectFilled(ImVec2(from.x - frame.look.px(2), from.y - frame.look.px(2)),
                     ImVec2(to.x + frame.look.px(2), to.y + frame.look.px(2)), paint(kHalo));
  list.PushClipRect(from, to, true);
  const bool nudging = frame.state.now - work.nudged_at < kNudgeShows;
  const double scale = std::clamp(kMagnified * work.transform.scale() / frame.look.scale,
                                  nudging ? kNudgeMagnified : kLeastMagnified, kMostMagnified);
  const PhotoTransform enlarged =
      PhotoTransform::centred(scale * frame.look.scale, *work.magnified, {middle.x, middle.y});
  bool complete = true;
  draw_pieces(list, frame.textures.photograph(*frame.session.photo().shown,
                                              frame.session.photo().shown_revision, enlarged, glass,
                                              complete));
  if (const auto& picture = frame.session.photo().picture) {
    if (const auto edge = edge_at(*picture, *work.magnified)) {
      constexpr double kClear = 6.0;  // grey levels a pixel: an edge worth showing
      if (edge->strength > kClear) {
        const float c = static_cast<float>(std::cos(edge->direction_rad)) * side;
        const float s = static_cast<float>(std::sin(edge->direction_rad)) * side;
        const ImVec2 line[2] = {ImVec2(middle.x - c, middle.y - s),
                                ImVec2(middle.x + c, middle.y + s)};
        haloed_path(list, line, 2, paint(kFitted, 0.9), frame.look.px(1), frame.look.px(5), false);
      }
    }
  }
  const float gap = frame.look.px(5);
  const float arm = frame.look.px(26);
  const ImU32 ink = paint(Colour{255, 255, 255});
  const float width = frame.look.px(1.2);
  haloed_line(list, ImVec2(middle.x - arm, middle.y), ImVec2(middle.x - gap, middle.y), ink, width);
  haloed_line(list, ImVec2(middle.x + gap, middle.y), ImVec2(middle.x + arm, middle.y), ink, width);
  haloed_line(list, ImVec2(middle.x, middle.y - arm), ImVec2(middle.x, middle.y - gap), ink, width);
  haloed_line(list, ImVec2(middle.x, middle.y + gap), ImVec2(middle.x, middle.y + arm), ink, width);
  list.PopClipRect();
  list.AddRect(from, to, paint(Colour{250, 245, 236}, 0.9), 0.0F, 0, frame.look.px(1));
}

// What stands in the photograph's place while there is none.
void draw_absence(Frame& frame, ScreenBox box) {
  const PhotoView& photo = frame.session.photo();
  ImGui::SetCursorScreenPos(
      vec({box.left + 0.5 * box.width - frame.look.px(180), box.top + 0.4 * box.height}));
  ImGui::BeginChild("absence", ImVec2(frame.look.px(360), frame.look.px(220)));
  const auto on_dark = [&](const std::string& text) {
    ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.on_surround));
    kit::words(frame, text);
    ImGui::PopStyleColor();
  };
  if (photo.problem) {
    on_dark(photo.problem->what);
    on_dark(photo.problem->next);
    if (frame.photo() != nullptr &&
        kit::button(frame, "Find the photograph",
                    {.tooltip = "Choose the file where it is now; all marks stay.",
                     .accent = true,
                     .width = 0.0})) {
      open_browser(frame, BrowsePurpose::kFindPhoto);
    }
  } else if (photo.busy) {
    on_dark(photo.busy->words + " …");
    Busy wordless = *photo.busy;
    wordless.words.clear();
    if (kit::busy(frame, wordless, "Puts the photograph away again.")) frame.ask(CloseProject{});
  }
  ImGui::EndChild();
}

void tell(Frame& frame, ScreenBox box) {
  if (!frame.description.wanted()) return;
  const PhotoTransform& transform = frame.state.canvas.transform;
  const ScreenPoint origin = transform.to_screen({0.0, 0.0});
  frame.description.tell(
      "canvas", std::map<std::string, double>{{"x", box.left},
                                              {"y", box.top},
                                              {"width", box.width},
                                              {"height", box.height},
                                              {"photo_left", origin.x},
                                              {"photo_top", origin.y},
                                              {"pixels_per_photo_pixel", transform.scale()}});
}

}  // namespace

void photo_canvas(Frame& frame, ScreenBox box) {
  CanvasWork& work = frame.state.canvas;
  const PhotoView& photo = frame.session.photo();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 from = vec({box.left, box.top});
  const ImVec2 to = vec({box.left + box.width, box.top + box.height});
  list.AddRectFilled(from, to, paint(frame.look.colours.surround));

  ImGui::SetCursorScreenPos(from);
  ImGui::InvisibleButton("photograph",
                         ImVec2(static_cast<float>(box.width), static_cast<float>(box.height)),
                         ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                             ImGuiButtonFlags_MouseButtonMiddle);
  const bool pointed = ImGui::IsItemHovered();
  if (pointed && frame.state.tool.kind != ToolKind::kSelect && photo.shown) {
    ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeAll);  // shown as a cross-hair
  }

  if (photo.shown) {
    const PictureSize size = shown_size(frame);
    const std::string file = frame.photo() != nullptr ? frame.photo()->file : "";
    const bool other = !work.fitted || work.fitted_file != file || !(work.fitted_size == size);
    if (other || (work.fits && !(work.box == box))) {
      work.transform.fit(size, box, frame.look.px(kMargin));
      work.fitted = true;
      work.fits = true;
      work.fitted_file = file;
      work.fitted_size = size;
    }
  }
  const PhotoTransform before = work.transform;
  canvas_input(frame, box, pointed);
  if (!(before == work.transform)) work.fits = false;

  list.PushClipRect(from, to, true);
  if (photo.shown) {
    bool complete = true;
    draw_pieces(list, frame.textures.photograph(*photo.shown, photo.shown_revision, work.transform,
                                                box, complete));
    if (!complete) Platform::wake();
    draw_fit(frame, list);
    draw_ellipses(frame, list);
    draw_whiskers(frame, list);
    draw_trace(frame, list);
    draw_marks(frame, list);
    draw_dimensions(frame, list);
    draw_brush(frame, list);
    draw_magnifier(frame, list, box);
  }
  list.PopClipRect();
  if (!photo.shown) draw_absence(frame, box);
  tell(frame, box);
}

}  // namespace potshadow

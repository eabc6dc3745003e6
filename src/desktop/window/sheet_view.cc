// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/work_state.h"
#include "desktop/words/template_words.h"

namespace potshadow {
namespace {

constexpr double kMostZoom = 8.0;   // times the whole page
constexpr double kCloseZoom = 2.5;  // of a double click
constexpr double kZoomStep = 1.2;   // a notch of the wheel
constexpr double kMargin = 24.0;    // around the page, at 100 %
constexpr double kFootRoom = 32.0;  // for the words below it, at 100 %

// Why there is no page to be seen, and what to do about it.
std::string empty_words(const Frame& frame) {
  const SheetView& sheet = frame.session.sheet();
  const Document& document = frame.document();
  if (sheet.problem) return sheet.problem->what + " " + sheet.problem->next;
  if (frame.session.figures().measurement == nullptr) {
    const Step due = std::min(step_due(document, work_state(frame)), Step::kSizes);
    return "It shows here once the vessel has its sizes. " +
           next_action(due, document, work_state(frame));
  }
  if (frame.session.figures().measurement->answer.scale == ScaleSource::kNone) {
    return "It shows here once something says how big the vessel is. One size is enough, "
           "known or guessed: give it in the step Reference.";
  }
  if (!frame.session.figures().measurement->shrinkage) {
    return "It shows here at wet size. Type your clay's shrinkage in the step Clay.";
  }
  if (!frame.session.figures().current) {
    return "It shows here once the sizes are worked out again.";
  }
  if (sheet.stopped) return "Stopped before it was drawn.";
  return sheet.busy && !sheet.busy->words.empty() ? sheet.busy->words + " …" : "Drawing …";
}

void in_the_middle(Frame& frame, const std::string& text) {
  constexpr double kLine = 360.0;
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float width = std::min(room.x - frame.look.px(2.0 * kMargin), frame.look.px(kLine));
  const ImVec2 needed = ImGui::CalcTextSize(text.c_str(), nullptr, false, width);
  const ImVec2 start = ImGui::GetCursorPos();
  ImGui::SetCursorPos(
      ImVec2(start.x + 0.5F * (room.x - needed.x), start.y + 0.5F * (room.y - needed.y)));
  ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.on_surround));
  ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width);
  ImGui::TextUnformatted(text.c_str());
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
}

// The page's shadow: a few ever larger and fainter frames.
void soft_edge(const Frame& frame, ImDrawList& list, ImVec2 from, ImVec2 to) {
  constexpr int kRings = 6;
  for (int i = kRings; i >= 1; --i) {
    const float grow = frame.look.px(1.5 * i);
    list.AddRectFilled(ImVec2(from.x - grow, from.y - grow + frame.look.px(2)),
                       ImVec2(to.x + grow, to.y + grow + frame.look.px(2)), paint(kHalo, 0.05),
                       grow);
  }
}

// Where the page lies on the field that scrolls beneath the window.
struct Layout {
  ImVec2 field;
  ImVec2 from;
  ImVec2 size;
};

Layout layout_at(const Frame& frame, const PagePixels& page, ImVec2 room, double sheet_zoom) {
  const float margin = frame.look.px(kMargin);
  const auto width = static_cast<float>(page.width_px);
  const auto height = static_cast<float>(page.height_px);
  const float fitting = std::max(
      0.01F, std::min((room.x - 2.0F * margin) / width, (room.y - 2.0F * margin) / height));
  const float scale = fitting * static_cast<float>(std::max(sheet_zoom, 1.0));
  Layout layout;
  layout.size = ImVec2(scale * width, scale * height);
  // The field reaches as far as the page with its margins.
  layout.field = ImVec2(std::max(room.x, layout.size.x + 2.0F * margin),
                        std::max(room.y, layout.size.y + 2.0F * margin));
  layout.from =
      ImVec2(0.5F * (layout.field.x - layout.size.x), 0.5F * (layout.field.y - layout.size.y));
  return layout;
}

// Zooms about `about`, a place in the window: what is under it stays there, as far as the page
// reaches. Scrolls the window that is current.
void zoom_to(Frame& frame, const PagePixels& page, ImVec2 room, ImVec2 about, double zoom) {
  const Layout before = layout_at(frame, page, room, frame.state.sheets.zoom);
  const double kept = std::clamp(zoom, 1.0, kMostZoom);
  frame.state.sheets.zoom = kept <= 1.0 ? 0.0 : kept;
  const Layout after = layout_at(frame, page, room, frame.state.sheets.zoom);
  const float u = (ImGui::GetScrollX() + about.x - before.from.x) / before.size.x;
  const float v = (ImGui::GetScrollY() + about.y - before.from.y) / before.size.y;
  ImGui::SetScrollX(std::max(0.0F, after.from.x + u * after.size.x - about.x));
  ImGui::SetScrollY(std::max(0.0F, after.from.y + v * after.size.y - about.y));
}

void move_view(Frame& frame, const PagePixels& page, ImVec2 room) {
  if (!ImGui::IsWindowHovered()) return;
  const ImGuiIO& io = ImGui::GetIO();
  const ImVec2 about(io.MousePos.x - ImGui::GetWindowPos().x,
                     io.MousePos.y - ImGui::GetWindowPos().y);
  const double zoom = std::max(frame.state.sheets.zoom, 1.0);
  if (io.MouseWheel != 0.0F) {
    zoom_to(frame, page, room, about,
            zoom * std::pow(kZoomStep, static_cast<double>(io.MouseWheel)));
  } else if (ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) {
    zoom_to(frame, page, room, about, zoom > 1.0 ? 1.0 : kCloseZoom);
  }
  for (const ImGuiMouseButton button : {ImGuiMouseButton_Left, ImGuiMouseButton_Middle}) {
    if (!ImGui::IsMouseDragging(button, 0.0F)) continue;
    ImGui::SetScrollX(ImGui::GetScrollX() - io.MouseDelta.x);
    ImGui::SetScrollY(ImGui::GetScrollY() - io.MouseDelta.y);
  }
}

}  // namespace

void sheet_view(Frame& frame) {
  const SheetView& sheet = frame.session.sheet();
  const Look& look = frame.look;
  const int count = static_cast<int>(sheet.pages.size());
  const ImVec2 all = ImGui::GetContentRegionAvail();
  const ImVec2 ground = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddRectFilled(ground, ImVec2(ground.x + all.x, ground.y + all.y),
                                            paint(look.colours.surround));
  if (count == 0) {
    in_the_middle(frame, empty_words(frame));
    return;
  }
  int& number = frame.state.sheets.page;
  number = std::clamp(number, 0, count - 1);
  const PagePixels& page = sheet.pages[static_cast<std::size_t>(number)];

  const ImVec2 room(all.x, std::max(1.0F, all.y - look.px(kFootRoom)));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0.0F, 0.0F));
  ImGui::BeginChild("sheet", room, false,
                    ImGuiWindowFlags_HorizontalScrollbar | ImGuiWindowFlags_NoScrollWithMouse |
                        ImGuiWindowFlags_NoScrollbar);
  ImGui::PopStyleVar();
  move_view(frame, page, room);
  const Layout layout = layout_at(frame, page, room, frame.state.sheets.zoom);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  ImGui::Dummy(layout.field);
  kit::describe_last(frame, "Template page");
  const ImVec2 from(std::floor(corner.x + layout.from.x), std::floor(corner.y + layout.from.y));
  const ImVec2 to(from.x + layout.size.x, from.y + layout.size.y);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  soft_edge(frame, list, from, to);
  list.AddRectFilled(from, to, IM_COL32_WHITE);
  const unsigned texture =
      frame.textures.page(page, sheet.revision, static_cast<std::size_t>(number));
  list.AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture)), from, to);
  const bool current = sheet.current && !sheet.problem;
  if (!current) list.AddRectFilled(from, to, paint(look.colours.surround, 0.45));
  ImGui::EndChild();

  const SheetPlace& place = sheet.places[static_cast<std::size_t>(number)];
  std::string foot = page_words(number, count, place_words(place.title, place.piece, place.label));
  if (!current) {
    foot = "From before the last change. " +
           (sheet.problem ? sheet.problem->what : empty_words(frame));
  }
  ImGui::PushFont(look.fonts.note);
  const float width = ImGui::CalcTextSize(foot.c_str()).x;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddText(
      ImVec2(at.x + std::max(look.px(8), 0.5F * (all.x - width)), at.y),
      paint(look.colours.on_surround), foot.c_str());
  ImGui::PopFont();
}

}  // namespace potshadow

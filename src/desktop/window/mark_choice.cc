// SPDX-License-Identifier: MIT
#include "desktop/window/mark_choice.h"

#include <imgui.h>

#include <cfloat>

#include "desktop/window/mark_glyph.h"

namespace potshadow {

bool mark_choice(Frame& frame, const std::string& title, MarkKind kind, MarkPart part, bool chosen,
                 const std::string& count, const kit::ButtonLook& look) {
  // The title stands to the left, behind the glyph; the count to the right.
  const float glyph_room = frame.look.px(34);
  ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, ImVec2(0.0F, 0.5F));
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                      ImVec2(glyph_room, ImGui::GetStyle().FramePadding.y));
  const bool pressed = kit::choice(frame, title, chosen, look);
  ImGui::PopStyleVar(2);
  const ImVec2 from = ImGui::GetItemRectMin();
  const ImVec2 to = ImGui::GetItemRectMax();
  const float middle = 0.5F * (from.y + to.y);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  // A wedge touches its place with its tip, so its place is set beside the middle.
  const float aside = kind == MarkKind::kLeft ? 0.7F : kind == MarkKind::kRight ? -0.7F : 0.0F;
  const float radius = frame.look.px(6);
  const ImVec2 centre(from.x + 0.5F * glyph_room + aside * radius, middle);
  if (part == MarkPart::kVessel) {
    mark_glyph(list, centre, radius, kind, 1.0, frame.look);
  } else {
    reference_glyph(list, centre, radius, part, 1.0, frame.look);
  }
  const ImFont* const font = frame.look.fonts.note;
  const float width = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0.0F, count.c_str()).x;
  list.AddText(
      font, font->FontSize, ImVec2(to.x - frame.look.px(8) - width, middle - 0.5F * font->FontSize),
      paint(chosen ? frame.look.colours.on_accent : frame.look.colours.quiet), count.c_str());
  return pressed;
}

}  // namespace potshadow

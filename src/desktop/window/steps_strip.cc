// SPDX-License-Identifier: MIT
#include <imgui.h>

#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/work_state.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/history_words.h"

namespace potshadow {
namespace {

// A filled ring is done, an empty one missing, a ring with a wavy line below doubtful.
void step_ring(Frame& frame, ImVec2 centre, StepState state, bool chosen) {
  const ThemeColours& colours = frame.look.colours;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float radius = frame.look.px(5);
  const ImU32 ink = paint(chosen ? colours.accent : colours.line);
  list.AddCircle(centre, radius, state == StepState::kDoubtful ? paint(colours.doubt) : ink, 20,
                 frame.look.px(1.6));
  if (state == StepState::kDone) {
    list.AddCircleFilled(centre, radius - frame.look.px(2), ink, 20);
  }
  if (state == StepState::kDoubtful) {
    kit::wave(frame, list, ImVec2(centre.x - frame.look.px(3.5), centre.y + frame.look.px(0.7)),
              frame.look.px(7), paint(colours.doubt));
  }
}

void open_panel(Frame& frame) {
  switch (frame.state.step) {
    case Step::kPhoto:
      photo_panel(frame);
      break;
    case Step::kReference:
      reference_panel(frame);
      break;
    case Step::kOutline:
      outline_panel(frame);
      break;
    case Step::kSizes:
      sizes_panel(frame);
      break;
    case Step::kClay:
      clay_panel(frame);
      break;
    case Step::kPlan:
      plan_panel(frame);
      break;
    case Step::kTemplates:
      templates_panel(frame);
      break;
    case Step::kCheck:
      check_panel(frame);
      break;
    case Step::kCompare:
      compare_panel(frame);
      break;
  }
}

// Returns whether the step was chosen.
bool step_row(Frame& frame, Step step, int number) {
  const ThemeColours& colours = frame.look.colours;
  const WorkState work = work_state(frame);
  const StepStatus status = step_status(step, frame.document(), work);
  const bool chosen = frame.state.step == step;
  const std::string title(step_title(step));
  const float height = frame.look.px(30);
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const bool pressed = ImGui::InvisibleButton(("step " + title).c_str(), ImVec2(width, height));
  const bool pointed = ImGui::IsItemHovered();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (chosen || pointed) {
    list.AddRectFilled(ImVec2(from.x - frame.look.px(8), from.y),
                       ImVec2(from.x + width + frame.look.px(8), from.y + height),
                       paint(colours.sunk), frame.look.px(4));
  }
  step_ring(frame, ImVec2(from.x + frame.look.px(7), from.y + 0.5F * height), status.state, chosen);
  ImFont* const font = chosen ? frame.look.fonts.strong : frame.look.fonts.text;
  list.AddText(font, font->FontSize,
               ImVec2(from.x + frame.look.px(22), from.y + 0.5F * (height - font->FontSize)),
               paint(colours.text), title.c_str());
  kit::describe_last(frame, title);
  kit::tip(frame, with_large_start(step_state_words(status.state)) + ". " + status.reason +
                      " (Key " + (step == Step::kCompare ? "H" : std::to_string(number)) + ")");
  return pressed;
}

void document_row(Frame& frame) {
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(frame.look.px(6), frame.look.px(4)));
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(frame.look.px(8), frame.look.px(6)));
  const auto undo_words = frame.session.history().undo_words();
  const auto redo_words = frame.session.history().redo_words();
  const float each = 0.5F * (ImGui::GetContentRegionAvail().x - frame.look.px(8));
  const double width = each / frame.look.scale;
  if (kit::button(frame, "Undo",
                  {.enabled = undo_words.has_value(),
                   .reason = undo_tooltip(undo_words),
                   .tooltip = undo_tooltip(undo_words),
                   .width = width})) {
    frame.ask(Undo{});
  }
  ImGui::SameLine();
  if (kit::button(frame, "Redo",
                  {.enabled = redo_words.has_value(),
                   .reason = redo_tooltip(redo_words),
                   .tooltip = redo_tooltip(redo_words),
                   .width = width})) {
    frame.ask(Redo{});
  }
  if (kit::button(frame, "Open",
                  {.tooltip = "Open a project or a photograph (Ctrl+O). Files can also be dropped "
                              "on the window.",
                   .width = width})) {
    open_browser(frame, BrowsePurpose::kOpen);
  }
  ImGui::SameLine();
  const bool unsaved = frame.session.unsaved() || frame.session.project_file().empty();
  if (kit::button(
          frame, "Save",
          {.enabled = unsaved,
           .reason = "Everything is saved.",
           .tooltip = "Save the project (Ctrl+S). Ctrl+Shift+S saves it under another name.",
           .width = width})) {
    frame.ask(Save{});
  }
  ImGui::PopStyleVar(2);
  ImGui::PopFont();
}

}  // namespace

void steps_strip(Frame& frame) {
  document_row(frame);
  kit::space(frame, 8);
  int number = 1;
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(frame.look.px(8), 0.0F));
  for (const Step step : kSteps) {
    if (step_row(frame, step, number++)) {
      frame.state.step = step;
      frame.state.middle = Middle::kPhoto;
    }
  }
  ImGui::PopStyleVar();
  kit::space(frame, 12);
  // The steps stay where they are; the open one's panel scrolls below them.
  ImGui::BeginChild("panel", ImVec2(0.0F, 0.0F), false, ImGuiWindowFlags_NavFlattened);
  if (frame.state.panel_step != frame.state.step) {
    frame.state.panel_step = frame.state.step;
    ImGui::SetScrollY(0.0F);
  }
  ImGui::PushID(static_cast<int>(frame.state.step));
  kit::note(frame, std::string(step_opening(frame.state.step)));
  open_panel(frame);
  ImGui::PopID();
  kit::space(frame, 16);
  ImGui::EndChild();
}

}  // namespace potshadow

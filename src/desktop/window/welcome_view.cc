// SPDX-License-Identifier: MIT
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <string>
#include <system_error>
#include <vector>

#include "desktop/window/folder_listing.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/section_shape.h"
#include "desktop/words/history_words.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

// At 100 %.
constexpr double kColumn = 400.0;
constexpr double kGap = 72.0;
constexpr double kDrawing = 300.0;
constexpr double kAction = 320.0;

// A jar of no one's, to look at: radius and height in millimetres, base first.
std::vector<ProfilePoint> drawn_jar() {
  return {{52, 0},   {60, 10},  {84, 45},  {104, 85}, {112, 125}, {106, 160},
          {84, 190}, {62, 206}, {54, 222}, {56, 238}, {66, 250},  {74, 256}};
}

void draw_jar(Frame& frame, ImDrawList& list, ImVec2 foot, float height) {
  const std::vector<ProfilePoint> points = drawn_jar();
  constexpr std::size_t kControls = 11;
  constexpr double kWall = 7.0;
  const Result<Profile> profile = Profile::through(points, kControls);
  if (!profile) return;
  const SectionShape shape = section_shape(*profile, kWall);
  const double scale = static_cast<double>(height) / shape.top_mm;
  const Upright place{{static_cast<double>(foot.x), static_cast<double>(foot.y)}, scale};
  draw_section(frame.look, list, shape, place, 0.9);
}

void actions(Frame& frame) {
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(frame.look.px(16), frame.look.px(11)));
  ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, ImVec2(0.0F, 0.5F));
  kit::ButtonLook look;
  look.width = kAction;
  look.accent = true;
  look.tooltip = "Begins a new project from a picture of a vessel (Ctrl+O)";
  if (kit::button(frame, "Open a photograph", look)) open_browser(frame, BrowsePurpose::kOpen);
  look.accent = false;
  look.tooltip = "Goes on with work that you have saved (Ctrl+O)";
  if (kit::button(frame, "Open a project", look)) open_browser(frame, BrowsePurpose::kOpen);
  look.tooltip = "A jar, marked and measured, to look around in; nothing of it is saved by itself";
  if (kit::button(frame, "Open the sample", look)) frame.ask(OpenSample{});
  ImGui::PopStyleVar(2);
}

void recent_files(Frame& frame) {
  const auto& recent = frame.settings.recent;
  if (recent.empty()) return;
  constexpr std::size_t kMost = 6;
  kit::heading(frame, "Worked on lately");
  const float left = ImGui::GetCursorPosX();
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(frame.look.px(8), frame.look.px(4)));
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0.0F, 0.0F));
  for (std::size_t i = 0; i < std::min(kMost, recent.size()); ++i) {
    std::error_code error;
    const bool exists = fs::exists(recent[i], error);
    const std::string words = recent_file_words(recent[i], exists);
    ImGui::SetCursorPosX(left - frame.look.px(8));
    if (exists) {
      if (kit::link(frame, words + "##recent " + std::to_string(i), recent[i].string())) {
        frame.ask(OpenFile{recent[i]});
      }
    } else {
      ImGui::SetCursorPosX(left);
      kit::note(frame, words);
    }
  }
  ImGui::PopStyleVar(2);
}

void said_line(Frame& frame) {
  const Said& said = frame.state.said;
  if (said.text.empty()) return;
  kit::space(frame, 16);
  if (said.trouble) {
    kit::problem(frame, {Code::kFileUnreadable, said.text, said.next, ""});
  } else {
    kit::note(frame, said.text);
  }
}

// A path that is pasted is opened; a folder is shown in the browser.
void take_pasted(Frame& frame) {
  if (ImGui::GetIO().WantTextInput || frame.state.question != Question::kNone) return;
  for (const KeyPress& press : frame.input.keys) {
    if (press.key != GLFW_KEY_V || !press.ctrl) continue;
    const char* const text = ImGui::GetClipboardText();
    if (text == nullptr) continue;
    const fs::path home = home_folder();
    const fs::path path = typed_path(text, home, home);
    std::error_code error;
    if (path.empty()) continue;
    if (!fs::exists(path, error)) {
      kit::complain(frame, "The clipboard holds no path to a file that is there.",
                    "Copy a file or its path, then paste again.");
    } else if (fs::is_directory(path, error)) {
      open_browser(frame, BrowsePurpose::kOpen);
      frame.state.browser.folder = path;
      frame.state.browser.path_text = path.string();
      frame.state.browser.listed = false;
    } else {
      frame.ask(OpenFile{path});
    }
  }
}

}  // namespace

void welcome_view(Frame& frame) {
  take_pasted(frame);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(frame.look.px(32), frame.look.px(32)));
  const bool shown =
      ImGui::BeginChild("welcome", ImVec2(0, 0), false, ImGuiWindowFlags_AlwaysUseWindowPadding);
  ImGui::PopStyleVar();
  if (shown) {
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const ImVec2 corner = ImGui::GetCursorPos();
    const bool drawing = room.x >= frame.look.px(kColumn + kGap + kDrawing);
    const float whole = frame.look.px(drawing ? kColumn + kGap + kDrawing : kColumn);
    const float left = corner.x + std::max(0.0F, 0.5F * (room.x - whole));
    // Words and drawing stand in the middle; how high the words are is known from the last frame.
    float* const high = ImGui::GetStateStorage()->GetFloatRef(ImGui::GetID("high"), 0.0F);
    const float tall = frame.look.px(kDrawing * 1.1);
    const float block = std::max(*high, drawing ? tall : 0.0F);
    const float top = corner.y + std::max(0.0F, 0.5F * (room.y - block));
    ImGui::SetCursorPos(ImVec2(left, top + 0.5F * (block - *high)));
    ImGui::BeginChild(
        "words",
        ImVec2(std::min(frame.look.px(kColumn), room.x), std::max(*high, frame.look.px(100))),
        false, ImGuiWindowFlags_NoScrollbar);
    kit::title(frame, "Potshadow");
    kit::words(frame,
               "Tells you from a photograph how big a vessel is, how sure that is, and how big to "
               "make it in your clay.");
    kit::space(frame, 24);
    actions(frame);
    kit::space(frame);
    kit::note(frame,
              "You can also drop a file on this window, or copy a path and paste it here with "
              "Ctrl+V. F1 shows all keys.");
    kit::space(frame);
    recent_files(frame);
    said_line(frame);
    const float height = ImGui::GetCursorPosY();
    ImGui::EndChild();
    if (drawing) {
      const ImVec2 window = ImGui::GetWindowPos();
      draw_jar(frame, *ImGui::GetWindowDrawList(),
               ImVec2(window.x + left + frame.look.px(kColumn + kGap + 0.5 * kDrawing),
                      window.y + top + 0.5F * (block + tall) - ImGui::GetScrollY()),
               tall);
    }
    *high = height;
  }
  ImGui::EndChild();
}

}  // namespace potshadow

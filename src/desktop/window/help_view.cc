// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <string>
#include <vector>

#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/help_words.h"

namespace potshadow {
namespace {

constexpr double kColumn = 330.0;  // width of a column, at 100 %
constexpr double kKeys = 142.0;    // of it, for the keys

void key_row(Frame& frame, const KeyRow& row) {
  const float start = ImGui::GetCursorPosX();
  const float top = ImGui::GetCursorPosY();
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.accent));
  ImGui::PushTextWrapPos(start + frame.look.px(kKeys - 8.0));
  ImGui::TextUnformatted(row.keys.data(), row.keys.data() + row.keys.size());
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
  const float after_keys = ImGui::GetCursorPosY();
  ImGui::SetCursorPos(ImVec2(start + frame.look.px(kKeys), top));
  ImGui::PushTextWrapPos(start + frame.look.px(kColumn - 16.0));
  ImGui::TextUnformatted(row.does.data(), row.does.data() + row.does.size());
  ImGui::PopTextWrapPos();
  ImGui::PopFont();
  ImGui::SetCursorPosX(start);
  ImGui::SetCursorPosY(std::max(ImGui::GetCursorPosY(), after_keys));
}

void key_group(Frame& frame, const KeyGroup& group) {
  kit::heading(frame, std::string(group.title));
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing,
                      ImVec2(ImGui::GetStyle().ItemSpacing.x, frame.look.px(4)));
  for (const KeyRow& row : group.rows) key_row(frame, row);
  ImGui::PopStyleVar();
}

// Spreads the groups over the columns in their order, so that all are about equally long.
std::vector<std::vector<KeyGroup>> in_columns(std::vector<KeyGroup> groups, std::size_t count) {
  std::size_t all = 0;
  for (const KeyGroup& group : groups) all += group.rows.size() + 2;
  std::vector<std::vector<KeyGroup>> columns(count);
  std::size_t so_far = 0;
  for (KeyGroup& group : groups) {
    const std::size_t lines = group.rows.size() + 2;
    const std::size_t middle = so_far + lines / 2;
    columns[std::min(count - 1, middle * count / all)].push_back(std::move(group));
    so_far += lines;
  }
  return columns;
}

}  // namespace

void help_view(Frame& frame) {
  ImGui::PushStyleColor(ImGuiCol_ChildBg, paint(frame.look.colours.ground));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(frame.look.px(32), frame.look.px(24)));
  const bool shown =
      ImGui::BeginChild("help", ImVec2(0, 0), false, ImGuiWindowFlags_AlwaysUseWindowPadding);
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
  if (shown) {
    kit::title(frame, "Keys");
    kit::note(frame,
              "Everything can be done with the mouse, and nearly everything with these keys. Point "
              "at a button for a moment to read what it is good for.");
    const float room = ImGui::GetContentRegionAvail().x;
    const auto fitting = static_cast<std::size_t>(std::max(1.0F, room / frame.look.px(kColumn)));
    const auto columns = in_columns(key_groups(), std::min<std::size_t>(3, fitting));
    const ImVec2 corner = ImGui::GetCursorPos();
    float lowest = corner.y;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      ImGui::SetCursorPos(
          ImVec2(corner.x + static_cast<float>(i) * frame.look.px(kColumn), corner.y));
      ImGui::BeginGroup();
      for (const KeyGroup& group : columns[i]) key_group(frame, group);
      ImGui::EndGroup();
      lowest = std::max(lowest, ImGui::GetCursorPosY());
    }
    ImGui::SetCursorPos(ImVec2(corner.x, lowest));
    kit::space(frame, 16);
    kit::ButtonLook look;
    look.width = 120.0;
    look.tooltip = "Back to the photograph (Esc)";
    if (kit::button(frame, "Close", look)) frame.state.middle = Middle::kPhoto;
  }
  ImGui::EndChild();
}

}  // namespace potshadow

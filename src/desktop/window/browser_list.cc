// SPDX-License-Identifier: MIT
#include "desktop/window/browser_list.h"

#include <imgui.h>

#include <string>

#include "desktop/session/opened_file.h"
#include "desktop/window/browse_purpose.h"
#include "desktop/window/browser_moves.h"
#include "desktop/window/folder_listing.h"
#include "desktop/window/kit.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

constexpr double kRowHeight = 26.0;  // of the list, at 100 %

// A folder, a picture or a pot, drawn small.
void draw_icon(const Frame& frame, ImDrawList& list, ImVec2 at, const BrowserState::Entry& entry) {
  const float u = frame.look.px(1);
  const ThemeColours& colours = frame.look.colours;
  const ImU32 line = paint(colours.quiet);
  const float thick = 1.4F * u;
  if (entry.folder) {
    list.AddRectFilled(ImVec2(at.x, at.y + u), ImVec2(at.x + 7 * u, at.y + 6 * u),
                       paint(colours.clay), 1.5F * u);
    list.AddRectFilled(ImVec2(at.x, at.y + 3 * u), ImVec2(at.x + 16 * u, at.y + 13 * u),
                       paint(colours.clay), 1.5F * u);
    return;
  }
  if (file_kind(entry.name) == FileKind::kProject) {
    // A small jar.
    const ImVec2 left[] = {{5, 0}, {6, 3}, {2, 6}, {2.5F, 10}, {5.5F, 14}};
    ImVec2 path[10];
    for (int i = 0; i < 5; ++i) {
      path[i] = ImVec2(at.x + u * left[i].x, at.y + u * left[i].y);
      path[9 - i] = ImVec2(at.x + u * (16.0F - left[i].x), at.y + u * left[i].y);
    }
    list.AddPolyline(path, 10, paint(colours.accent), ImDrawFlags_Closed, thick);
    return;
  }
  list.AddRect(ImVec2(at.x, at.y + u), ImVec2(at.x + 16 * u, at.y + 13 * u), line, 1.5F * u, 0,
               thick);
  if (file_kind(entry.name) == FileKind::kPhoto) {
    const ImVec2 hill[] = {{at.x + 2 * u, at.y + 11 * u},
                           {at.x + 6 * u, at.y + 6 * u},
                           {at.x + 9 * u, at.y + 9 * u},
                           {at.x + 11 * u, at.y + 7 * u},
                           {at.x + 14 * u, at.y + 11 * u}};
    list.AddPolyline(hill, 5, line, 0, thick);
  }
}

void entry_row(Frame& frame, std::size_t index, const fs::path& typed_now, bool gone_to) {
  BrowserState& browser = frame.state.browser;
  const BrowserState::Entry entry = browser.entries[index];
  const float height = frame.look.px(kRowHeight);
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const bool chosen = is_chosen(browser, entry, typed_now);
  const std::string id = "##entry " + std::to_string(index);
  const ThemeColours& colours = frame.look.colours;
  ImGui::PushStyleColor(ImGuiCol_Header, paint(colours.raised));
  ImGui::PushStyleColor(ImGuiCol_HeaderHovered, paint(chosen ? colours.raised : colours.sunk));
  const bool clicked = ImGui::Selectable(id.c_str(), chosen, ImGuiSelectableFlags_AllowDoubleClick,
                                         ImVec2(0.0F, height));
  ImGui::PopStyleColor(2);
  kit::describe_last(frame, entry.name);
  if (gone_to) ImGui::SetScrollHereY(0.5F);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (chosen) {
    list.AddRectFilled(from, ImVec2(from.x + frame.look.px(3), from.y + height),
                       paint(colours.accent));
  }
  const float text_top = from.y + 0.5F * (height - ImGui::GetTextLineHeight());
  draw_icon(frame, list, ImVec2(from.x + frame.look.px(8), from.y + frame.look.px(6)), entry);
  float name_right = from.x + width - frame.look.px(8);
  if (!entry.folder) {
    ImFont* const font = frame.look.fonts.note;
    const std::string size = bytes_text(entry.bytes);
    const float size_width = font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, size.c_str()).x;
    name_right -= size_width;
    list.AddText(font, font->FontSize,
                 ImVec2(name_right, from.y + 0.5F * (height - font->FontSize)),
                 paint(frame.look.colours.quiet), size.c_str());
    name_right -= frame.look.px(16);
  }
  const ImVec4 clip(from.x, from.y, name_right, from.y + height);
  list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), ImVec2(from.x + frame.look.px(34), text_top),
               paint(frame.look.colours.text), entry.name.c_str(), nullptr, 0.0F, &clip);
  if (!clicked) return;
  const bool several = browser.purpose == BrowsePurpose::kBoardPictures && !entry.folder;
  if (ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left) && !several) {
    enter(frame, entry);
  } else {
    choose(browser, entry);
  }
}

}  // namespace

void entry_list(Frame& frame, float height, std::optional<std::size_t> gone_to) {
  BrowserState& browser = frame.state.browser;
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0.0F, frame.look.px(4)));
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0.0F, 0.0F));
  ImGui::BeginChild("entries", ImVec2(0.0F, height), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding);
  if (!browser.trouble.empty()) {
    kit::doubt(frame, browser.trouble);
  } else if (browser.entries.empty()) {
    kit::note(frame, saves(browser.purpose)
                         ? "Nothing of this kind is here yet."
                         : "There are no folders, photographs or projects here.");
  }
  const fs::path typed_now = typed(browser);
  const fs::path folder = browser.folder;
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(browser.entries.size()), frame.look.px(kRowHeight));
  if (gone_to) {
    clipper.ForceDisplayRangeByIndices(static_cast<int>(*gone_to), static_cast<int>(*gone_to) + 1);
  }
  while (clipper.Step()) {
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
      const auto index = static_cast<std::size_t>(i);
      entry_row(frame, index, typed_now, gone_to == index);
      // Another folder was gone into; its entries come with the next frame.
      if (browser.folder != folder) break;
    }
  }
  ImGui::EndChild();
  ImGui::PopStyleVar(2);
}

}  // namespace potshadow

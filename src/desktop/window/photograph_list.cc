// SPDX-License-Identifier: MIT
#include "desktop/window/photograph_list.h"

#include <imgui.h>

#include <algorithm>
#include <string>
#include <vector>

#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/photo_words.h"

namespace potshadow {
namespace {

constexpr double kRowHeight = 28.0;    // at 100 %
constexpr double kMostAround = 360.0;  // degrees

// Cuts the text where it would be wider than the room, with three dots.
std::string fitting(const std::string& text, const ImFont& font, float room) {
  const auto width = [&](const std::string& of) {
    return font.CalcTextSizeA(font.FontSize, 1e6F, 0.0F, of.c_str()).x;
  };
  if (width(text) <= room) return text;
  std::string cut = text;
  while (!cut.empty() && width(cut + " …") > room) {
    do {
      cut.pop_back();
    } while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U);
    // What is left may end within a letter of several bytes.
    if (!cut.empty() && static_cast<unsigned char>(cut.back()) >= 0xC0U) cut.pop_back();
  }
  return cut + " …";
}

// A filled ring for one with marks, an empty one without. Returns whether it was chosen.
bool photo_row(Frame& frame, const PhotoLine& line, std::size_t index) {
  const ThemeColours& colours = frame.look.colours;
  const bool shown = frame.state.photo == index;
  const float height = frame.look.px(kRowHeight);
  const float width = ImGui::GetContentRegionAvail().x;
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const bool pressed =
      ImGui::InvisibleButton(("photo " + std::to_string(index)).c_str(), ImVec2(width, height));
  const bool pointed = ImGui::IsItemHovered();
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (shown || pointed) {
    list.AddRectFilled(from, ImVec2(from.x + width, from.y + height), paint(colours.sunk),
                       frame.look.px(4));
  }
  if (shown) {
    list.AddRectFilled(from, ImVec2(from.x + frame.look.px(3), from.y + height),
                       paint(colours.accent), frame.look.px(1.5));
  }
  const ImVec2 centre(from.x + frame.look.px(13), from.y + 0.5F * height);
  const float radius = frame.look.px(4.5);
  list.AddCircle(centre, radius, paint(colours.line), 20, frame.look.px(1.5));
  if (line.marked) {
    list.AddCircleFilled(centre, radius - frame.look.px(2), paint(colours.line), 20);
  }
  ImFont* const font = shown ? frame.look.fonts.strong : frame.look.fonts.text;
  const float indent = frame.look.px(24);
  list.AddText(
      font, font->FontSize, ImVec2(from.x + indent, from.y + 0.5F * (height - font->FontSize)),
      paint(colours.text), fitting(line.name, *font, width - indent - frame.look.px(4)).c_str());
  kit::describe_last(frame, "Show photograph " + std::to_string(index + 1));
  kit::tip(frame, line.words);
  return pressed;
}

void direction(Frame& frame, const ProjectPhoto& photo) {
  const bool first = frame.state.photo == 0;
  if (first && !photo.direction_deg) {
    kit::note(frame, "The sides that the others are seen from are counted from this one.");
    return;
  }
  const auto typed = kit::number(
      frame, "Seen from", photo.direction_deg,
      {.unit = "°",
       .tooltip = "Degrees round the pot from the first photograph, all counted the same way "
                  "round as seen from above: 90 for a quarter of the way, 180 for the back. Empty "
                  "for the same side. Three sides or more tell how round the pot is.",
       .decimals = 1,
       .hint = "the same side"});
  if (!typed) return;
  if (*typed && !(**typed >= -kMostAround && **typed <= kMostAround)) {
    kit::complain(frame, "That is more than once round the pot, so nothing was changed.",
                  "Type degrees from -360 to 360, such as 90.");
    return;
  }
  frame.ask(Perform{SetDirection{frame.state.photo, *typed}});
}

}  // namespace

void photograph_list(Frame& frame) {
  const std::vector<PhotoLine> lines = photo_lines(frame.document());
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) return;
  const bool several = lines.size() > 1;
  if (several) {
    kit::heading(frame, "Photographs");
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(frame.look.px(8), 0.0F));
    for (std::size_t i = 0; i < lines.size(); ++i) {
      if (photo_row(frame, lines[i], i) && i != frame.state.photo) frame.ask(ShowPhoto{i});
    }
    ImGui::PopStyleVar();
    kit::space(frame, 4);
    direction(frame, *photo);
  }
  if (kit::button(frame, "Add a photograph",
                  {.tooltip = "Another one of the same vessel, from another side or distance. All "
                              "photographs together give the figures."})) {
    open_browser(frame, BrowsePurpose::kAddPhoto);
  }
  if (several &&
      kit::button(frame, "Take this one out",
                  {.tooltip = "Takes the photograph that is shown out of the project, with its "
                              "marks and references. The file stays, and undo brings all back."})) {
    frame.ask(Perform{RemovePhoto{frame.state.photo}});
    kit::say(frame, "Took '" + lines[frame.state.photo].name + "' out. Undo brings it back.");
  }
}

void show_next_photo(Frame& frame, int by) {
  const auto count = static_cast<int>(frame.document().photos.size());
  if (count < 2) return;
  const int next = (static_cast<int>(frame.state.photo) + by + count) % count;
  frame.ask(ShowPhoto{static_cast<std::size_t>(next)});
}

}  // namespace potshadow

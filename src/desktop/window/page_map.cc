// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <string>

#include "desktop/window/kit.h"
#include "desktop/window/sheet_panel.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/template_words.h"

namespace potshadow {
namespace {

// A page on the map, at 100 %.
constexpr double kLong = 34.0;
constexpr double kShort = 26.0;
constexpr double kGap = 4.0;

std::string words_of(const SheetPlace& place) {
  return place_words(place.title, place.piece, place.label);
}

// "A" of "A2".
std::string row_of(const std::string& label) {
  return label.substr(0, label.find_first_of("0123456789"));
}

// Whether the pages from `number` on belong to another sheet, or to another large piece of it.
bool begins_group(const std::vector<SheetPlace>& places, std::size_t number) {
  if (number == 0) return true;
  const SheetPlace& place = places[number];
  const SheetPlace& before = places[number - 1];
  if (place.title != before.title) return true;
  if (place.label.empty() != before.label.empty()) return true;
  return !place.label.empty() && place.piece != before.piece;
}

void page_box(Frame& frame, std::size_t number, const SheetPlace& place, std::size_t count) {
  const ThemeColours& colours = frame.look.colours;
  int& chosen = frame.state.sheets.page;
  const bool is_chosen = static_cast<std::size_t>(chosen) == number;
  const ImVec2 cell(frame.look.px(kLong), frame.look.px(kLong));
  const ImVec2 size(frame.look.px(place.lying ? kLong : kShort),
                    frame.look.px(place.lying ? kShort : kLong));
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const std::string id = "##page " + std::to_string(number + 1);
  if (ImGui::InvisibleButton(id.c_str(), cell)) chosen = static_cast<int>(number);
  const bool pointed = ImGui::IsItemHovered();
  const ImVec2 from(corner.x + 0.5F * (cell.x - size.x), corner.y + 0.5F * (cell.y - size.y));
  const ImVec2 to(from.x + size.x, from.y + size.y);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(from, to, paint(pointed ? colours.sunk : colours.ground), frame.look.px(2));
  list.AddRect(from, to, paint(is_chosen ? colours.accent : colours.line), frame.look.px(2), 0,
               frame.look.px(is_chosen ? 2.5 : 1.0));
  ImFont* const font = is_chosen ? frame.look.fonts.strong : frame.look.fonts.note;
  const float letters = frame.look.fonts.note->FontSize;
  const std::string text = place.label.empty() ? std::to_string(number + 1) : place.label;
  const ImVec2 room = font->CalcTextSizeA(letters, 1e6F, 0.0F, text.c_str());
  list.AddText(font, letters,
               ImVec2(from.x + 0.5F * (size.x - room.x), from.y + 0.5F * (size.y - room.y)),
               paint(colours.text), text.c_str());
  kit::describe_last(frame, "Page " + std::to_string(number + 1));
  kit::tip(frame, page_words(static_cast<int>(number), static_cast<int>(count), words_of(place)));
}

void map(Frame& frame, const std::vector<SheetPlace>& places) {
  std::size_t groups = 0;
  for (std::size_t i = 0; i < places.size(); ++i) groups += begins_group(places, i) ? 1U : 0U;
  const bool headed = groups > 1 && groups < places.size();
  const float gap = frame.look.px(kGap);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(gap, gap));
  const float step = frame.look.px(kLong) + gap;
  const auto in_line =
      std::max(1, static_cast<int>((ImGui::GetContentRegionAvail().x + gap) / step));
  int in_this = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const SheetPlace& place = places[i];
    bool new_line = in_this == in_line;
    if (headed && begins_group(places, i)) {
      kit::note(frame, place.label.empty() || place.piece.empty() ? place.title : place.piece);
      new_line = true;
    } else if (i > 0 && row_of(place.label) != row_of(places[i - 1].label)) {
      new_line = true;
    }
    if (new_line) in_this = 0;
    if (in_this > 0) ImGui::SameLine();
    page_box(frame, i, place, places.size());
    ++in_this;
  }
  ImGui::PopStyleVar();
}

}  // namespace

void page_map(Frame& frame) {
  const SheetView& sheet = frame.session.sheet();
  const int count = static_cast<int>(sheet.pages.size());
  if (count == 0) return;
  int& page = frame.state.sheets.page;
  page = std::clamp(page, 0, count - 1);
  kit::heading(frame, counted(static_cast<std::size_t>(count), "page", "pages"));
  kit::note(frame, page_words(page, count, words_of(sheet.places[static_cast<std::size_t>(page)])));
  if (count == 1) return;
  const double half = 0.5 * (ImGui::GetContentRegionAvail().x / frame.look.scale - 8.0);
  if (kit::button(frame, "Previous",
                  {.enabled = page > 0,
                   .reason = "This is the first page.",
                   .tooltip = "The page before (Page Up)",
                   .width = half})) {
    --page;
  }
  ImGui::SameLine();
  if (kit::button(frame, "Next",
                  {.enabled = page + 1 < count,
                   .reason = "This is the last page.",
                   .tooltip = "The page after (Page Down)",
                   .width = half})) {
    ++page;
  }
  map(frame, sheet.places);
}

}  // namespace potshadow

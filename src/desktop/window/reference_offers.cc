// SPDX-License-Identifier: MIT
#include "desktop/window/reference_offers.h"

#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <string>
#include <utility>

#include "core/text.h"
#include "core/typed_number.h"
#include "desktop/window/kit.h"
#include "desktop/window/reference_tool.h"
#include "desktop/words/reference_words.h"
#include "project/reference_table.h"

namespace potshadow {
namespace {

constexpr double kTypedSizeDoubtMm = 0.3;  // what a ruler gives (common practice, no source)

void add(Frame& frame, ProjectReference reference) {
  const std::size_t index = frame.photo()->references.size();
  frame.ask(Perform{AddReference{frame.state.photo, std::move(reference)}});
  choose_reference(frame, index);
  frame.state.object_search.clear();
  frame.state.open_folds[kAddReferenceFold] = false;
}

ProjectReference reference_of(const CommonObject& object) {
  ProjectReference reference;
  reference.object = object.key;
  reference.size_sd_mm = size_sd_mm(object);
  if (object.shape == ReferenceShape::kDisc) {
    reference.kind = "disc";
    reference.diameter_mm = object.width_mm;
  } else {
    reference.kind = "rectangle";
    reference.width_mm = object.width_mm;
    reference.height_mm = object.height_mm;
  }
  return reference;
}

std::string lower(std::string_view text) {
  std::string small(text);
  for (char& letter : small) {
    letter = static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  }
  return small;
}

bool holds_every_word(const CommonObject& object, const std::string& search) {
  const std::string all = lower(object.name + " " + object.group + " " + object.source);
  std::size_t at = 0;
  while (at < search.size()) {
    const std::size_t end = std::min(search.find(' ', at), search.size());
    if (all.find(lower(search.substr(at, end - at))) == std::string::npos) return false;
    at = end + 1;
  }
  return true;
}

std::string object_tooltip(const CommonObject& object, LengthUnit unit) {
  std::string text = reference_title(reference_of(object), unit);
  if (object.tolerance_mm > 0.0) {
    text += ", ± " +
            typed_text(in_unit(Mm{object.tolerance_mm}, unit), unit == LengthUnit::kMm ? 2 : 3) +
            " " + std::string(unit_name(unit));
  }
  text += ". Source: " + object.source + ".";
  if (!object.remark.empty()) text += " " + object.remark;
  return text;
}

// A line of the list: the name alone, cut where it is too long.
void object_line(Frame& frame, const CommonObject& object) {
  ImGui::PushFont(frame.look.fonts.note);
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const ImVec2 size(ImGui::GetContentRegionAvail().x,
                    ImGui::GetTextLineHeight() + frame.look.px(8));
  const bool pressed = ImGui::InvisibleButton(object.key.c_str(), size);
  const bool pointed = ImGui::IsItemHovered();
  kit::describe_last(frame, object.name);
  kit::tip(frame, object_tooltip(object, frame.settings.unit));
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (pointed) {
    list.AddRectFilled(from, ImVec2(from.x + size.x, from.y + size.y),
                       paint(frame.look.colours.sunk), ImGui::GetStyle().FrameRounding);
  }
  const ImVec4 clip(from.x, from.y, from.x + size.x, from.y + size.y);
  list.AddText(ImGui::GetFont(), ImGui::GetFontSize(),
               ImVec2(from.x + frame.look.px(8), from.y + frame.look.px(4)),
               paint(pointed ? frame.look.colours.accent : frame.look.colours.text),
               object.name.c_str(), nullptr, 0.0F, &clip);
  ImGui::PopFont();
  if (pressed) add(frame, reference_of(object));
}

void common_list(Frame& frame) {
  kit::live_text(frame, "Search the common objects", frame.state.object_search,
                 {.tooltip = "Bank cards, paper, coins and other things of known size.",
                  .hint = "card, coin, A4 …"});
  const std::string search = frame.state.object_search;
  const bool all = search.find_first_not_of(' ') == std::string::npos;
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing,
                      ImVec2(ImGui::GetStyle().ItemSpacing.x, frame.look.px(2)));
  std::string group;
  bool open = false;
  std::size_t found = 0;
  for (const CommonObject& object : common_objects()) {
    if (!all) {
      if (!holds_every_word(object, search)) continue;
      open = true;
    } else if (object.group != group) {
      group = object.group;
      open = kit::fold(frame, group + "##objects");
    }
    ++found;
    if (open) object_line(frame, object);
  }
  ImGui::PopStyleVar();
  if (found == 0) {
    kit::note(frame, "There is no such thing in the list. Measure it and type its size instead.");
  }
}

void typed_kinds(Frame& frame) {
  kit::note(frame, "Or something whose size you measure or look up:");
  const double half = 0.5 * (ImGui::GetContentRegionAvail().x / frame.look.scale - 8.0);
  for (const KindWords& words : all_reference_kinds()) {
    // The first two are short enough to share a row.
    const bool narrow = words.key == "rectangle" || words.key == "disc";
    if (words.key == "disc") ImGui::SameLine();
    if (kit::button(frame, std::string(words.offer),
                    {.tooltip = std::string(words.sentence), .width = narrow ? half : -1.0})) {
      ProjectReference reference;
      reference.kind = words.key;
      reference.size_sd_mm = kTypedSizeDoubtMm;
      if (reference.kind == "neighbour") reference.size = size_key(SizeName::kHeight);
      add(frame, std::move(reference));
    }
  }
}

}  // namespace

void reference_offers(Frame& frame) {
  common_list(frame);
  typed_kinds(frame);
}

}  // namespace potshadow

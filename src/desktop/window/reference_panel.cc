// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <cfloat>
#include <optional>
#include <string>
#include <vector>

#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/reference_editor.h"
#include "desktop/window/reference_offers.h"
#include "desktop/window/reference_tool.h"
#include "desktop/words/reference_words.h"

namespace potshadow {
namespace {

// A row with the reference's number and name over what there is of it, and a ring at its end:
// filled where it is complete. The one that is edited is marked.
void reference_row(Frame& frame, const ProjectReference& reference, std::size_t index) {
  const std::string title = reference_title(reference, frame.settings.unit);
  const std::string name =
      std::to_string(index + 1) + "  " + title.substr(0, std::min(title.rfind(", "), title.size()));
  const std::string summary = reference_summary(reference, frame.settings.unit);
  const std::vector<std::string> missing = reference_missing(reference);
  const bool chosen = frame.state.reference == index;
  const Look& look = frame.look;
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float note_width = width - look.px(16);
  const float name_width = note_width - look.px(16);
  const ImVec2 named =
      look.fonts.text->CalcTextSizeA(look.fonts.text->FontSize, FLT_MAX, name_width, name.c_str());
  const ImVec2 noted = look.fonts.note->CalcTextSizeA(look.fonts.note->FontSize, FLT_MAX,
                                                      note_width, summary.c_str());
  const float height = named.y + noted.y + look.px(14);
  const bool pressed =
      ImGui::InvisibleButton(("reference " + std::to_string(index)).c_str(), ImVec2(width, height));
  const bool pointed = ImGui::IsItemHovered();
  kit::describe_last(frame, "Reference " + std::to_string(index + 1));
  kit::tip(frame, missing.empty() ? title + "." : missing.front());
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 to(from.x + width, from.y + height);
  list.AddRectFilled(from, to, paint(chosen || pointed ? look.colours.sunk : look.colours.raised),
                     ImGui::GetStyle().FrameRounding);
  if (chosen) {
    list.AddRect(from, to, paint(look.colours.accent), ImGui::GetStyle().FrameRounding, 0,
                 look.px(1.6));
  }
  list.AddText(look.fonts.text, look.fonts.text->FontSize,
               ImVec2(from.x + look.px(8), from.y + look.px(5)), paint(look.colours.text),
               name.c_str(), nullptr, name_width);
  list.AddText(look.fonts.note, look.fonts.note->FontSize,
               ImVec2(from.x + look.px(8), from.y + look.px(7) + named.y),
               paint(look.colours.quiet), summary.c_str(), nullptr, note_width);
  const ImVec2 ring(to.x - look.px(14), from.y + look.px(14));
  if (missing.empty()) {
    list.AddCircleFilled(ring, look.px(4.5), paint(look.colours.line));
  } else {
    list.AddCircle(ring, look.px(4), paint(look.colours.line), 0, look.px(1.5));
  }
  if (pressed) choose_reference(frame, index);
}

// Returns whether the reference is to go.
bool removal(Frame& frame, std::size_t index) {
  kit::space(frame);
  if (!kit::button(frame, "Remove this reference", {.tooltip = "Undo brings it back."})) {
    return false;
  }
  // The list opens again where it was the only one; the folds of sizes go by number.
  frame.state.open_folds.erase(kAddReferenceFold);
  std::erase_if(frame.state.open_folds,
                [](const auto& fold) { return fold.first.starts_with(kSizeFold); });
  frame.ask(Perform{RemoveReference{frame.state.photo, index}});
  choose_reference(frame, index > 0 ? index - 1 : 0);
  return true;
}

}  // namespace

void reference_panel(Frame& frame) {
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) {
    kit::words(frame, "Open a photograph first.");
    return;
  }
  const std::vector<ProjectReference>& all = photo->references;
  if (!all.empty() && frame.state.reference >= all.size()) choose_reference(frame, all.size() - 1);
  for (std::size_t i = 0; i < all.size(); ++i) reference_row(frame, all[i], i);
  if (kit::fold(frame, kAddReferenceFold, all.empty())) {
    reference_offers(frame);
  }
  if (all.empty() || frame.state.reference >= all.size()) return;

  const std::size_t index = frame.state.reference;
  ImGui::PushID(static_cast<int>(index));
  const ProjectReference& now = all[index];
  const std::vector<std::string> missing = reference_missing(now);
  kit::space(frame);
  for (const std::string& order : missing) kit::doubt(frame, order);
  const std::optional<KindWords> kind = kind_words(now.kind);
  if (kind && !missing.empty()) kit::note(frame, std::string(kind->sentence));
  ReferenceEditor editor(frame, index, now);
  if (kind && kind->has_place) {
    editor.size();
    editor.place();
    editor.glass();
    editor.beside();
    editor.marks();
    editor.riser();
  } else if (now.kind == "neighbour") {
    editor.known_size();
    editor.marks();
    editor.riser();
  } else if (now.kind == "size") {
    editor.known_size();
  } else if (now.kind == "distance") {
    editor.distance();
  }
  if (!removal(frame, index)) editor.finish();
  ImGui::PopID();
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <cfloat>
#include <optional>
#include <string>
#include <vector>

#include "core/text.h"
#include "desktop/window/kit.h"
#include "desktop/window/number_fields.h"
#include "desktop/window/place_drawing.h"
#include "desktop/window/reference_editor.h"
#include "desktop/window/reference_tool.h"
#include "desktop/words/figure_text.h"

namespace potshadow {
namespace {

// A distance judged through a pane (common practice, no source); typing a better one is easy.
constexpr double kTypedDistanceDoubtMm = 10.0;
constexpr double kTileDrawing = 36.0;  // height of a tile's drawing, at 100 %

}  // namespace

// A place's brief name, cut into lines that fit a tile.
std::vector<std::string> ReferenceEditor::tile_lines(const PlaceWords& words, float width) const {
  const ImFont* const font = frame_.look.fonts.note;
  const std::string brief = with_large_start(words.brief);
  std::vector<std::string> lines;
  const char* line = brief.c_str();
  const char* const end = line + brief.size();
  while (line < end) {
    const char* stop = font->CalcWordWrapPositionA(frame_.look.px(13) / font->FontSize, line, end,
                                                   width - frame_.look.px(2));
    if (stop == line) ++stop;
    lines.emplace_back(line, stop);
    line = stop;
    while (line < end && *line == ' ') ++line;
  }
  return lines;
}

float ReferenceEditor::tile_words_height(const PlaceWords& words, float width) const {
  return static_cast<float>(tile_lines(words, width).size()) * frame_.look.fonts.note->FontSize;
}

void ReferenceEditor::place_tile(const PlaceWords& words, ImVec2 size) {
  const Look& look = frame_.look;
  const bool chosen = value_.place == words.key;
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const ImVec2 to(from.x + size.x, from.y + size.y);
  const std::string title(words.title);
  const bool pressed = ImGui::InvisibleButton(title.c_str(), size);
  const bool pointed = ImGui::IsItemHovered();
  kit::describe_last(frame_, title);
  kit::tip(frame_, std::string(value_.kind == "length" ? words.of_length : words.sentence));
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (chosen || pointed) {
    list.AddRectFilled(from, to, paint(look.colours.sunk), ImGui::GetStyle().FrameRounding);
  }
  if (chosen) {
    list.AddRect(from, to, paint(look.colours.accent), ImGui::GetStyle().FrameRounding, 0,
                 look.px(1.6));
  }
  const float drawn = look.px(kTileDrawing);
  place_drawing(list, ImVec2(from.x + look.px(2), from.y + look.px(4)),
                ImVec2(size.x - look.px(4), drawn), words.place, look);
  // What it is called in brief, in the middle.
  const ImFont* const font = look.fonts.note;
  float y = from.y + drawn + look.px(6);
  for (const std::string& line : tile_lines(words, size.x)) {
    const float width = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0.0F, line.c_str()).x;
    list.AddText(font, font->FontSize, ImVec2(from.x + 0.5F * (size.x - width), y),
                 paint(look.colours.text), line.c_str());
    y += font->FontSize;
  }
  if (pressed && !chosen) {
    value_.place = std::string(words.key);
    changed_ = true;
  }
}

void ReferenceEditor::place() {
  kit::heading(frame_, "Place");
  constexpr std::size_t kInARow = 3;
  const float gap = frame_.look.px(4);
  const float width = (ImGui::GetContentRegionAvail().x - (kInARow - 1) * gap) / kInARow;
  const auto places = all_places();
  for (std::size_t i = 0; i < places.size(); ++i) {
    // A row is as high as the words of its tiles need.
    const std::size_t first = i - i % kInARow;
    float words = 0.0F;
    for (std::size_t k = first; k < std::min(first + kInARow, places.size()); ++k) {
      words = std::max(words, tile_words_height(places[k], width));
    }
    if (i != first) ImGui::SameLine(0.0F, gap);
    place_tile(places[i], ImVec2(width, frame_.look.px(kTileDrawing + 12) + words));
  }
  const std::optional<Place> chosen = where();
  if (!chosen || reference_missing(value_).empty()) return;
  const PlaceWords words = place_words(*chosen);
  kit::note(frame_, std::string(value_.kind == "length" ? words.of_length : words.sentence));
}

// The line where the shelf meets the pane says how far away the pane is.
void ReferenceEditor::shelf_line() {
  const Tool tool = marking_tool(index_, ToolKind::kShelfLine);
  const bool marking = frame_.state.tool == tool;
  if (marking) {
    if (kit::choice(frame_, std::string(reference_field::kShelfLine), true,
                    {.tooltip = "Press it again to leave it."})) {
      frame_.state.tool = Tool{};
    }
    kit::words(frame_, shelf_line_prompt(frame_.state.canvas.edge_points.size()));
    return;
  }
  if (!value_.shelf_at_glass) {
    if (kit::button(frame_, std::string(reference_field::kShelfLine),
                    {.tooltip = "In place of the distance: two points on the line where the shelf "
                                "meets the glass."})) {
      start_tool(frame_, tool);
    }
    return;
  }
  kit::note(frame_, shelf_line_prompt(2));
  if (kit::link(frame_, "Take the line out", "To mark it anew, or to type the distance instead.")) {
    value_.shelf_at_glass.reset();
    changed_ = true;
  }
}

void ReferenceEditor::beside() {
  if (where() != Place::kBeside) return;
  const bool used = value_.depth_offset_mm != 0.0 || value_.depth_offset_sd_mm != kDefaultDepthSdMm;
  if (!kit::fold(frame_, "Nearer or farther", used)) return;
  take(length_field(frame_,
                    {.label = "Farther by",
                     .mm = value_.depth_offset_mm,
                     .tooltip = "How much farther from the camera its middle is than the middle of "
                                "the vessel; below zero where it is nearer.",
                     .least_mm = -kLargestMm}),
       value_.depth_offset_mm);
  take(length_field(frame_, {.label = "That usually within ±",
                             .mm = value_.depth_offset_sd_mm,
                             .tooltip = kUsually,
                             .least_allowed = true}),
       value_.depth_offset_sd_mm);
}

void ReferenceEditor::glass() {
  if (where() != Place::kOnGlass) return;
  const std::optional<std::optional<double>> distance = length_field_or_none(
      frame_, {.label = std::string(reference_field::kGlass),
               .mm = value_.glass_to_axis_mm,
               .tooltip = "From the face of the glass that carries the reference to the "
                          "middle of the vessel, straight in. It decides how far the sizes "
                          "can be trusted."});
  take(distance, value_.glass_to_axis_mm);
  if (distance && *distance && value_.glass_to_axis_sd_mm == 0.0) {
    value_.glass_to_axis_sd_mm = kTypedDistanceDoubtMm;
  }
  if (value_.glass_to_axis_mm || !value_.shelf_at_glass) {
    take(length_field(frame_, {.label = "That distance usually within ±",
                               .mm = value_.glass_to_axis_sd_mm,
                               .tooltip = kUsually,
                               .least_allowed = true}),
         value_.glass_to_axis_sd_mm);
  }
  shelf_line();
  const double half = 0.5 * (ImGui::GetContentRegionAvail().x / frame_.look.scale - 8.0);
  kit::note(frame_, "On which face of the pane?");
  if (kit::choice(frame_, "Your side", !value_.behind_glass,
                  {.tooltip = "On the outer face, as when you hold a card against the case.",
                   .width = half}) &&
      value_.behind_glass) {
    value_.behind_glass = false;
    changed_ = true;
  }
  ImGui::SameLine();
  if (kit::choice(
          frame_, "Inside", value_.behind_glass,
          {.tooltip = "On the inner face, as a label stuck on from within.", .width = half}) &&
      !value_.behind_glass) {
    value_.behind_glass = true;
    changed_ = true;
  }
}

void ReferenceEditor::riser() {
  const std::optional<Place> place = where();
  const bool on_pane = place == Place::kOnGlass;
  if (!is_neighbour() && (!place || place == Place::kBeside)) return;
  if (on_pane && !value_.shelf_at_glass) return;
  const bool used = value_.riser_mm != 0.0 || value_.riser_sd_mm != 0.0;
  if (!kit::fold(frame_, "On another level", used)) return;
  take(length_field(frame_,
                    {.label = "Vessel higher by",
                     .mm = value_.riser_mm,
                     .tooltip = on_pane ? "The height of the stand or step that the vessel is "
                                          "on, above the shelf whose line is marked."
                                        : "The height of the stand or step that the vessel is "
                                          "on; below zero where the reference is the higher of "
                                          "the two.",
                     .least_mm = -kLargestMm}),
       value_.riser_mm);
  take(length_field(frame_, {.label = "Step usually within ±",
                             .mm = value_.riser_sd_mm,
                             .tooltip = kUsually,
                             .least_allowed = true}),
       value_.riser_sd_mm);
}

}  // namespace potshadow

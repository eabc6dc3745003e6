// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <utility>

#include "core/text.h"
#include "core/typed_number.h"
#include "desktop/window/canvas_input.h"
#include "desktop/window/kit.h"
#include "desktop/window/mark_glyph.h"
#include "desktop/window/panels.h"
#include "desktop/window/place_drawing.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/outline_words.h"
#include "desktop/words/reference_words.h"
#include "project/reference_table.h"

namespace potshadow {
namespace {

constexpr double kTypedSizeDoubtMm = 0.3;  // what a ruler gives (common practice, no source)
// A distance judged through a pane (common practice, no source); typing a better one is easy.
constexpr double kTypedDistanceDoubtMm = 10.0;
constexpr double kLargestMm = 10000.0;    // longer things do not lie beside a pot
constexpr double kFarthestMm = 100000.0;  // nobody photographs a pot from farther away
constexpr const char* kAddFold = "Add a reference";
constexpr const char* kSizeFold = "Its size##";
constexpr const char* kUsually =
    "Two times in three it lies within this, 19 times in 20 within twice as much.";

constexpr int kMostCells = 1000;  // of a block of tiles; more could not be counted

bool is_disc(const ProjectReference& reference) { return reference.kind == "disc"; }
bool is_neighbour(const ProjectReference& reference) { return reference.kind == "neighbour"; }
bool has_corners(const ProjectReference& reference) {
  return reference.kind == "rectangle" || reference.kind == "grid";
}

Tool marking_tool(std::size_t reference, ToolKind kind = ToolKind::kMark) {
  return {.kind = kind, .mark = MarkKind::kReference, .reference = reference};
}

bool marks_reference(const Tool& tool) {
  return collects(tool) || (tool.kind == ToolKind::kMark && tool.mark == MarkKind::kReference);
}

// Takes up a tool on the photograph.
void start(Frame& frame, const Tool& tool) {
  frame.state.tool = tool;
  frame.state.canvas.edge_points.clear();
  frame.state.middle = Middle::kPhoto;
}

void choose(Frame& frame, std::size_t reference) {
  frame.state.reference = reference;
  if (marks_reference(frame.state.tool)) frame.state.tool = Tool{};
}

// --- A length in the unit of the settings -------------------------------------------------------

struct LengthField {
  std::string label;
  std::optional<double> mm;
  std::string tooltip{};
  double least_mm = 0.0;  // what is typed must be above it, or equal where `least_allowed`
  bool least_allowed = false;
  double most_mm = kLargestMm;
};

void complain_of_length(Frame& frame) {
  const LengthUnit unit = frame.settings.unit;
  kit::complain(frame, "That is not a length that can be here, so nothing was changed.",
                "Type it in " + std::string(unit_name(unit)) + ", for example " +
                    (unit == LengthUnit::kMm ? "85.6." : "3 1/2."));
}

// Returns the millimetres once typed, an empty inner optional where the field was emptied;
// complains about lengths that cannot be.
std::optional<std::optional<double>> length_or_none(Frame& frame, const LengthField& field) {
  const LengthUnit unit = frame.settings.unit;
  std::optional<double> shown;
  if (field.mm) shown = in_unit(Mm{*field.mm}, unit);
  const auto typed = kit::number(frame, field.label, shown,
                                 {.unit = std::string(unit_name(unit)),
                                  .tooltip = field.tooltip,
                                  .decimals = unit == LengthUnit::kMm ? 2 : 3});
  if (!typed || !*typed) return typed;
  const double mm = **typed / in_unit(Mm{1.0}, unit);
  const bool enough = field.least_allowed ? mm >= field.least_mm : mm > field.least_mm;
  if (!enough || mm > field.most_mm) {
    complain_of_length(frame);
    return std::nullopt;
  }
  return std::optional<double>(mm);
}

// As above, for a length that has to be there.
std::optional<double> length(Frame& frame, const LengthField& field) {
  const auto typed = length_or_none(frame, field);
  if (!typed) return std::nullopt;
  if (!*typed) complain_of_length(frame);
  return *typed;
}

// --- Adding one ---------------------------------------------------------------------------------

void add(Frame& frame, ProjectReference reference) {
  const std::size_t index = frame.photo()->references.size();
  frame.ask(Perform{AddReference{frame.state.photo, std::move(reference)}});
  choose(frame, index);
  frame.state.object_search.clear();
  frame.state.open_folds[kAddFold] = false;
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
      if (is_neighbour(reference)) reference.size = size_key(SizeName::kHeight);
      add(frame, std::move(reference));
    }
  }
}

// --- The list -----------------------------------------------------------------------------------

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
  if (pressed) choose(frame, index);
}

// --- The chosen one -----------------------------------------------------------------------------

class Editor {
 public:
  Editor(Frame& frame, std::size_t index, const ProjectReference& now)
      : frame_(frame), index_(index), value_(now) {}

  void size();
  void known_size();
  void distance();
  void place();
  void glass();
  void beside();
  void riser();
  void marks();
  void removal();
  void finish() {
    if (changed_) frame_.ask(Perform{SetReference{frame_.state.photo, index_, value_}});
  }

 private:
  void take(const std::optional<double>& typed, double& value) {
    if (!typed) return;
    value = *typed;
    changed_ = true;
  }
  void take(const std::optional<double>& typed, std::optional<double>& value) {
    if (!typed) return;
    value = *typed;
    changed_ = true;
  }
  void take(const std::optional<std::optional<double>>& typed, std::optional<double>& value) {
    if (!typed) return;
    value = *typed;
    changed_ = true;
  }
  std::optional<Place> where() const { return place_of_key(value_.place); }
  void cells(const std::string& label, int& value, const std::string& tooltip);
  void value_field(const std::string& label, const std::string& tooltip);
  void place_tile(const PlaceWords& words, ImVec2 size);
  void shelf_line();
  void corner_buttons(std::size_t there);
  void along_edges() const;
  void neighbour_row(MarkKind kind);
  void neighbour_marks();

  Frame& frame_;
  std::size_t index_;
  ProjectReference value_;
  bool changed_ = false;
};

// How many tiles the block has one way.
void Editor::cells(const std::string& label, int& value, const std::string& tooltip) {
  const auto typed = kit::number(frame_, label, value, {.tooltip = tooltip, .decimals = 0});
  if (!typed) return;
  const double count = typed->value_or(0.0);
  if (!(count >= 1.0 && count <= kMostCells) || count != std::floor(count)) {
    kit::complain(frame_, "That is not a number of tiles, so nothing was changed.",
                  "Count the whole tiles of the block, such as 3.");
    return;
  }
  value = static_cast<int>(count);
  changed_ = true;
}

void Editor::size() {
  const std::string& kind = value_.kind;
  const bool wanting = kind == "disc"     ? !value_.diameter_mm
                       : kind == "length" ? !value_.length_mm
                       : kind == "grid"   ? !value_.pitch_mm
                                          : !value_.width_mm || !value_.height_mm;
  if (!kit::fold(frame_, std::string(kSizeFold) + std::to_string(index_), wanting)) return;
  const auto old = value_;
  if (kind == "disc") {
    take(length(frame_, {.label = "Diameter", .mm = value_.diameter_mm}), value_.diameter_mm);
  } else if (kind == "length") {
    take(length(frame_, {.label = "Length",
                         .mm = value_.length_mm,
                         .tooltip = "Straight from its end 1 to its end 2."}),
         value_.length_mm);
  } else if (kind == "grid") {
    take(
        length(frame_, {.label = "From joint to joint",
                        .mm = value_.pitch_mm,
                        .tooltip = "One tile with one joint. Measure over several tiles and divide "
                                   "by their number."}),
        value_.pitch_mm);
    cells("Tiles across", value_.columns, "Whole tiles from corner 1 to corner 2.");
    cells(where() == Place::kLying ? "Tiles away from you" : "Tiles up", value_.rows,
          "Whole tiles from corner 2 to corner 3.");
  } else {
    take(length(frame_, {.label = "Width",
                         .mm = value_.width_mm,
                         .tooltip = "From its corner 1 to its corner 2."}),
         value_.width_mm);
    take(length(frame_, {.label = "Height",
                         .mm = value_.height_mm,
                         .tooltip = "From its corner 2 to its corner 3."}),
         value_.height_mm);
  }
  // With another size it is no longer the thing from the table.
  if (value_ != old) value_.object.clear();
  take(
      length(frame_, {.label = kind == "grid" ? "Joint to joint within ±" : "Size usually within ±",
                      .mm = value_.size_sd_mm,
                      .tooltip = kUsually,
                      .least_allowed = true}),
      value_.size_sd_mm);
  if (kind != "rectangle" || !value_.width_mm || !value_.height_mm) return;
  if (kit::link(frame_, "Swap width and height", "For a card that is set upright on its end.")) {
    std::swap(value_.width_mm, value_.height_mm);
    changed_ = true;
  }
}

// A value and how sure it is.
void Editor::value_field(const std::string& label, const std::string& tooltip) {
  const bool far = value_.kind == "distance";
  take(length(frame_, {.label = label,
                       .mm = value_.value_mm,
                       .tooltip = tooltip,
                       .most_mm = far ? kFarthestMm : kLargestMm}),
       value_.value_mm);
  const double usual = far ? kDefaultDistanceSdMm : kDefaultKnownSizeSdMm;
  take(length_or_none(frame_, {.label = "Usually within ±",
                               .mm = value_.sd_mm.value_or(usual),
                               .tooltip = kUsually,
                               .least_allowed = true}),
       value_.sd_mm);
}

// One size of the vessel itself, or of its neighbour.
void Editor::known_size() {
  const std::vector<SizeName> names = knowable_sizes(is_neighbour(value_));
  std::vector<std::string> entries;
  std::size_t chosen = names.size();
  for (std::size_t i = 0; i < names.size(); ++i) {
    entries.emplace_back(size_words(names[i]));
    if (size_key(names[i]) == value_.size) chosen = i;
  }
  const auto picked = kit::list(frame_, "Which size", entries, chosen,
                                is_neighbour(value_) ? "Which size of that vessel is known."
                                                     : "Which size of your pot is known.");
  if (picked && *picked != chosen) {
    value_.size = size_key(names[*picked]);
    changed_ = true;
  }
  value_field("It is",
              "As the label or the catalogue gives it. Most round to the centimetre, which "
              "is what ± 2.9 mm stands for.");
  if (is_neighbour(value_)) return;
  if (kit::check(frame_, "A guess", value_.guess,
                 "No label says so, but you would bet on it. Everything that comes of it is marked "
                 "as a guess.")) {
    changed_ = true;
  }
}

void Editor::distance() {
  value_field("From lens to pot",
              "From the front of the lens to the middle of the pot, at half its height.");
}

void Editor::place_tile(const PlaceWords& words, ImVec2 size) {
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
  const float drawn = look.px(36);
  place_drawing(list, ImVec2(from.x + look.px(2), from.y + look.px(4)),
                ImVec2(size.x - look.px(4), drawn), words.place, look);
  // What it is called in brief, on two lines in the middle.
  const ImFont* const font = look.fonts.note;
  const float room = size.x - look.px(2);
  const std::string brief = with_large_start(words.brief);
  const char* line = brief.c_str();
  const char* const end = line + brief.size();
  float y = from.y + drawn + look.px(6);
  while (line < end) {
    const char* stop = font->CalcWordWrapPositionA(look.px(13) / font->FontSize, line, end, room);
    if (stop == line) ++stop;
    const float width = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0.0F, line, stop).x;
    list.AddText(font, font->FontSize, ImVec2(from.x + 0.5F * (size.x - width), y),
                 paint(look.colours.text), line, stop);
    y += font->FontSize;
    line = stop;
    while (line < end && *line == ' ') ++line;
  }
  if (pressed && !chosen) {
    value_.place = std::string(words.key);
    changed_ = true;
  }
}

void Editor::place() {
  kit::heading(frame_, "Place");
  const float gap = frame_.look.px(4);
  const float columns = 3.0F;
  const ImVec2 size((ImGui::GetContentRegionAvail().x - (columns - 1.0F) * gap) / columns,
                    frame_.look.px(74));
  std::size_t number = 0;
  for (const PlaceWords& words : all_places()) {
    if (number++ % 3 != 0) ImGui::SameLine(0.0F, gap);
    place_tile(words, size);
  }
  const std::optional<Place> chosen = where();
  if (!chosen || reference_missing(value_).empty()) return;
  const PlaceWords words = place_words(*chosen);
  kit::note(frame_, std::string(value_.kind == "length" ? words.of_length : words.sentence));
}

// The line where the shelf meets the pane says how far away the pane is.
void Editor::shelf_line() {
  const Tool tool = marking_tool(index_, ToolKind::kShelfLine);
  const bool marking = frame_.state.tool == tool;
  if (marking) {
    if (kit::choice(frame_, "Mark the shelf's line", true,
                    {.tooltip = "Press it again to leave it."})) {
      frame_.state.tool = Tool{};
    }
    kit::words(frame_, shelf_line_prompt(frame_.state.canvas.edge_points.size()));
    return;
  }
  if (!value_.shelf_at_glass) {
    if (kit::button(frame_, "Mark the shelf's line",
                    {.tooltip = "In place of the distance: two points on the line where the shelf "
                                "meets the glass."})) {
      start(frame_, tool);
    }
    return;
  }
  kit::note(frame_, shelf_line_prompt(2));
  if (kit::link(frame_, "Take the line out", "To mark it anew, or to type the distance instead.")) {
    value_.shelf_at_glass.reset();
    changed_ = true;
  }
}

void Editor::beside() {
  if (where() != Place::kBeside) return;
  const bool used = value_.depth_offset_mm != 0.0 || value_.depth_offset_sd_mm != kDefaultDepthSdMm;
  if (!kit::fold(frame_, "Nearer or farther", used)) return;
  take(length(frame_,
              {.label = "Farther by",
               .mm = value_.depth_offset_mm,
               .tooltip = "How much farther from the camera its middle is than the middle of "
                          "the vessel; below zero where it is nearer.",
               .least_mm = -kLargestMm}),
       value_.depth_offset_mm);
  take(length(frame_, {.label = "That usually within ±",
                       .mm = value_.depth_offset_sd_mm,
                       .tooltip = kUsually,
                       .least_allowed = true}),
       value_.depth_offset_sd_mm);
}

void Editor::glass() {
  if (where() != Place::kOnGlass) return;
  const std::optional<std::optional<double>> distance = length_or_none(
      frame_, {.label = "From the glass to the vessel's middle",
               .mm = value_.glass_to_axis_mm,
               .tooltip = "From the face of the glass that carries the reference to the "
                          "middle of the vessel, straight in. It decides how far the sizes "
                          "can be trusted."});
  take(distance, value_.glass_to_axis_mm);
  if (distance && *distance && value_.glass_to_axis_sd_mm == 0.0) {
    value_.glass_to_axis_sd_mm = kTypedDistanceDoubtMm;
  }
  if (value_.glass_to_axis_mm || !value_.shelf_at_glass) {
    take(length(frame_, {.label = "That distance usually within ±",
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

void Editor::riser() {
  const std::optional<Place> place = where();
  const bool on_pane = place == Place::kOnGlass;
  if (!is_neighbour(value_) && (!place || place == Place::kBeside)) return;
  if (on_pane && !value_.shelf_at_glass) return;
  const bool used = value_.riser_mm != 0.0 || value_.riser_sd_mm != 0.0;
  if (!kit::fold(frame_, "On another level", used)) return;
  take(length(frame_, {.label = "Vessel higher by",
                       .mm = value_.riser_mm,
                       .tooltip = on_pane ? "The height of the stand or step that the vessel is "
                                            "on, above the shelf whose line is marked."
                                          : "The height of the stand or step that the vessel is "
                                            "on; below zero where the reference is the higher of "
                                            "the two.",
                       .least_mm = -kLargestMm}),
       value_.riser_mm);
  take(length(frame_, {.label = "Step usually within ±",
                       .mm = value_.riser_sd_mm,
                       .tooltip = kUsually,
                       .least_allowed = true}),
       value_.riser_sd_mm);
}

void Editor::along_edges() const {
  const std::size_t clicked = frame_.state.canvas.edge_points.size();
  constexpr std::array<const char*, kCornerCount> kUpright{"lower", "right", "upper", "left"};
  constexpr std::array<const char*, kCornerCount> kFlat{"near", "right", "far", "left"};
  const std::size_t edge = std::min(clicked / 2, kCornerCount - 1);
  kit::words(frame_, std::string(clicked % 2 == 0 ? "Click a point on its " : "Another on its ") +
                         (where() == Place::kLying ? kFlat : kUpright).at(edge) +
                         " edge, well apart: " + std::to_string(clicked) + " of 8.");
  kit::note(frame_, "Stay off the rounded corners; they are worked out from the straight edges.");
}

// The buttons to mark corners, ends or an edge.
void Editor::corner_buttons(std::size_t there) {
  Tool& tool = frame_.state.tool;
  const bool ends = value_.kind == "length";
  const bool along = tool == marking_tool(index_, ToolKind::kEdges);
  const bool full = !is_disc(value_) && there >= (ends ? kEndCount : kCornerCount);
  const std::string points = ends              ? "Mark its ends"
                             : is_disc(value_) ? "Mark its edge"
                             : has_corners(value_) && value_.kind == "grid"
                                 ? "Mark the block's corners"
                                 : "Mark its corners";
  if (tool == marking_tool(index_)) {
    if (kit::choice(frame_, points, true, {.tooltip = "Press it again when you are done."})) {
      tool = Tool{};
    }
  } else if (kit::button(frame_, points,
                         {.enabled = !full,
                          .reason = ends ? "Both are marked. Drag an end to move it."
                                         : "All four are marked. Drag a corner to move it.",
                          .tooltip = "Then click on the photograph.",
                          .accent = reference_missing(value_).size() == 1 && !along})) {
    start(frame_, marking_tool(index_));
  }
  if (value_.kind != "rectangle") return;
  if (kit::choice(frame_, "Mark along its edges", along,
                  {.tooltip = "For rounded corners, as of a bank card: click two points on each "
                              "straight edge, and the corners are worked out where the edges "
                              "would meet."})) {
    start(frame_, along ? Tool{} : marking_tool(index_, ToolKind::kEdges));
  }
}

// A part of the neighbour to mark, with the shape of its marks and how many there are.
void Editor::neighbour_row(MarkKind kind) {
  const MarkPart part = neighbour_part(kind);
  Tool tool = marking_tool(index_);
  tool.part = part;
  const bool chosen = frame_.state.tool.kind == ToolKind::kMark &&
                      frame_.state.tool.reference == index_ && part_of_tool(frame_) == part;
  const bool hidden = kind == MarkKind::kBase && value_.round_base;
  const MarkKindWords words = mark_kind_words(kind, value_.round_base);
  const float glyph_room = frame_.look.px(34);
  ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, ImVec2(0.0F, 0.5F));
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                      ImVec2(glyph_room, ImGui::GetStyle().FramePadding.y));
  const bool pressed = kit::choice(frame_, std::string(words.title), chosen,
                                   {.enabled = !hidden,
                                    .reason = std::string(words.why),
                                    .tooltip = "The same as on your own vessel, but on this one."});
  ImGui::PopStyleVar(2);
  const ImVec2 from = ImGui::GetItemRectMin();
  const ImVec2 to = ImGui::GetItemRectMax();
  const float middle = 0.5F * (from.y + to.y);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  // A wedge touches its place with its tip, so its place is set beside the middle.
  const float aside = kind == MarkKind::kLeft ? 0.7F : kind == MarkKind::kRight ? -0.7F : 0.0F;
  const float radius = frame_.look.px(6);
  reference_glyph(list, ImVec2(from.x + 0.5F * glyph_room + aside * radius, middle), radius, part,
                  1.0, frame_.look);
  const std::string count = std::to_string(
      marks_in(frame_.document(), {frame_.state.photo, {MarkKind::kReference, index_, 0}}, part));
  const ImFont* const font = frame_.look.fonts.note;
  const float width = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0.0F, count.c_str()).x;
  list.AddText(font, font->FontSize,
               ImVec2(to.x - frame_.look.px(8) - width, middle - 0.5F * font->FontSize),
               paint(chosen ? frame_.look.colours.on_accent : frame_.look.colours.quiet),
               count.c_str());
  if (pressed) start(frame_, chosen ? Tool{} : tool);
}

void Editor::neighbour_marks() {
  constexpr std::array<MarkKind, 4> kKinds{MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft,
                                           MarkKind::kRight};
  for (const MarkKind kind : kKinds) neighbour_row(kind);
  const Tool& tool = frame_.state.tool;
  const std::optional<MarkKind> marking = kind_of_part(part_of_tool(frame_));
  if (marking && tool.reference == index_) {
    kit::words(frame_, std::string(mark_kind_words(*marking, value_.round_base).what));
    kit::words(frame_, mark_prompt(*marking, value_.marks, value_.round_base));
  }
  if (kit::check(frame_, "Round base", value_.round_base,
                 "It rests on a rounded bottom and has no foot that could be marked.")) {
    changed_ = true;
    if (marking == MarkKind::kBase && tool.reference == index_) frame_.state.tool = Tool{};
  }
}

void Editor::marks() {
  kit::heading(frame_, "Marks");
  std::size_t there = 0;
  for (const MarkId& mark : marks_of(frame_.document(), frame_.state.photo)) {
    const bool here = mark.place.kind == MarkKind::kReference && mark.place.reference == index_;
    if (here && part_of(frame_.document(), mark) != MarkPart::kShelfLine) ++there;
  }
  if (is_neighbour(value_)) {
    neighbour_marks();
  } else {
    corner_buttons(there);
    const Tool& tool = frame_.state.tool;
    if (tool == marking_tool(index_, ToolKind::kEdges)) {
      along_edges();
    } else if (there > 0 || tool == marking_tool(index_)) {
      kit::words(frame_, reference_prompt(value_));
    }
  }
  if (there > 0 && kit::link(frame_, "Take its marks out", "To mark it anew.")) {
    RemoveMarks remove;
    for (std::size_t i = 0; i < there; ++i) {
      remove.marks.push_back({frame_.state.photo, {MarkKind::kReference, index_, i}});
    }
    frame_.ask(Perform{remove});
  }
}

void Editor::removal() {
  kit::space(frame_);
  if (!kit::button(frame_, "Remove this reference", {.tooltip = "Undo brings it back."})) return;
  changed_ = false;
  // The list opens again where it was the only one; the folds of sizes go by number.
  frame_.state.open_folds.erase(kAddFold);
  std::erase_if(frame_.state.open_folds,
                [](const auto& fold) { return fold.first.starts_with(kSizeFold); });
  frame_.ask(Perform{RemoveReference{frame_.state.photo, index_}});
  choose(frame_, index_ > 0 ? index_ - 1 : 0);
}

}  // namespace

void reference_panel(Frame& frame) {
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) {
    kit::words(frame, "Open a photograph first.");
    return;
  }
  const std::vector<ProjectReference>& all = photo->references;
  if (!all.empty() && frame.state.reference >= all.size()) choose(frame, all.size() - 1);
  for (std::size_t i = 0; i < all.size(); ++i) reference_row(frame, all[i], i);
  if (kit::fold(frame, kAddFold, all.empty())) {
    common_list(frame);
    typed_kinds(frame);
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
  Editor editor(frame, index, now);
  if (kind && kind->has_place) {
    editor.size();
    editor.place();
    editor.glass();
    editor.beside();
    editor.marks();
    editor.riser();
  } else if (is_neighbour(now)) {
    editor.known_size();
    editor.marks();
    editor.riser();
  } else if (now.kind == "size") {
    editor.known_size();
  } else if (now.kind == "distance") {
    editor.distance();
  }
  editor.removal();
  editor.finish();
  ImGui::PopID();
}

}  // namespace potshadow

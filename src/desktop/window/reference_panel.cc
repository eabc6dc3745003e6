// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "core/text.h"
#include "core/typed_number.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/place_drawing.h"
#include "desktop/words/reference_words.h"
#include "project/reference_table.h"

namespace potshadow {
namespace {

constexpr double kTypedSizeDoubtMm = 0.3;  // what a ruler gives (common practice, no source)
// A distance judged through a pane (common practice, no source); typing a better one is easy.
constexpr double kTypedDistanceDoubtMm = 10.0;
constexpr double kLargestMm = 10000.0;  // longer things do not lie beside a pot
constexpr const char* kAddFold = "Add a reference";
constexpr const char* kSizeFold = "Its size##";
constexpr const char* kUsually =
    "Two times in three it lies within this, 19 times in 20 within twice as much.";

bool is_disc(const ProjectReference& reference) { return reference.kind == "disc"; }
bool takes_marks(const ProjectReference& reference) {
  return is_disc(reference) || reference.kind == "rectangle";
}

Tool marking_tool(std::size_t reference, ToolKind kind = ToolKind::kMark) {
  return {.kind = kind, .mark = MarkKind::kReference, .reference = reference};
}

bool marks_reference(const Tool& tool) {
  return tool.kind == ToolKind::kEdges ||
         (tool.kind == ToolKind::kMark && tool.mark == MarkKind::kReference);
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
};

// Returns the millimetres once typed; complains about lengths that cannot be.
std::optional<double> length(Frame& frame, const LengthField& field) {
  const LengthUnit unit = frame.settings.unit;
  std::optional<double> shown;
  if (field.mm) shown = in_unit(Mm{*field.mm}, unit);
  const auto typed = kit::number(frame, field.label, shown,
                                 {.unit = std::string(unit_name(unit)),
                                  .tooltip = field.tooltip,
                                  .decimals = unit == LengthUnit::kMm ? 2 : 3});
  if (!typed) return std::nullopt;
  const double mm = typed->value_or(field.least_mm) / in_unit(Mm{1.0}, unit);
  const bool enough = field.least_allowed ? mm >= field.least_mm : mm > field.least_mm;
  if (!*typed || !enough || mm > kLargestMm) {
    kit::complain(frame, "That is not a length that can be here, so nothing was changed.",
                  "Type it in " + std::string(unit_name(unit)) + ", for example " +
                      (unit == LengthUnit::kMm ? "85.6." : "3 1/2."));
    return std::nullopt;
  }
  return mm;
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
  kit::note(frame, "Or measure a flat thing with right angles, or a round one:");
  const double half = 0.5 * (ImGui::GetContentRegionAvail().x / frame.look.scale - 8.0);
  ProjectReference reference;
  reference.size_sd_mm = kTypedSizeDoubtMm;
  if (kit::button(frame, "Rectangle",
                  {.tooltip = "Type the width and height of a flat rectangle.", .width = half})) {
    reference.kind = "rectangle";
    add(frame, reference);
  }
  ImGui::SameLine();
  if (kit::button(frame, "Disc", {.tooltip = "Type the diameter of a flat disc.", .width = half})) {
    reference.kind = "disc";
    add(frame, reference);
  }
}

// --- The list -----------------------------------------------------------------------------------

// A row with the reference's name over its size; the one that is edited is marked.
void reference_row(Frame& frame, const ProjectReference& reference, std::size_t index) {
  const std::string title = reference_title(reference, frame.settings.unit);
  const std::size_t comma = std::min(title.rfind(", "), title.size());
  const std::string name = std::to_string(index + 1) + "  " + title.substr(0, comma);
  const std::string size = comma < title.size() ? title.substr(comma + 2) : "";
  const bool chosen = frame.state.reference == index;
  const Look& look = frame.look;
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float text_width = width - look.px(16);
  const ImVec2 named =
      look.fonts.text->CalcTextSizeA(look.fonts.text->FontSize, FLT_MAX, text_width, name.c_str());
  const float height = named.y + look.fonts.note->FontSize + look.px(14);
  const bool pressed =
      ImGui::InvisibleButton(("reference " + std::to_string(index)).c_str(), ImVec2(width, height));
  const bool pointed = ImGui::IsItemHovered();
  kit::describe_last(frame, "Reference " + std::to_string(index + 1));
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
               name.c_str(), nullptr, text_width);
  list.AddText(look.fonts.note, look.fonts.note->FontSize,
               ImVec2(from.x + look.px(8), from.y + look.px(7) + named.y),
               paint(look.colours.quiet), size.c_str());
  if (pressed) choose(frame, index);
}

// --- The chosen one -----------------------------------------------------------------------------

class Editor {
 public:
  Editor(Frame& frame, std::size_t index, const ProjectReference& now)
      : frame_(frame), index_(index), value_(now) {}

  void size();
  void place();
  void glass();
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
  void place_tile(const PlaceWords& words, ImVec2 size);
  std::size_t marked() const {
    return is_disc(value_) ? value_.edge.size() : value_.corners.size();
  }

  Frame& frame_;
  std::size_t index_;
  ProjectReference value_;
  bool changed_ = false;
};

void Editor::size() {
  const bool wanting =
      is_disc(value_) ? !value_.diameter_mm : !value_.width_mm || !value_.height_mm;
  if (!kit::fold(frame_, std::string(kSizeFold) + std::to_string(index_), wanting)) return;
  const auto old = value_;
  if (is_disc(value_)) {
    take(length(frame_, {.label = "Diameter", .mm = value_.diameter_mm}), value_.diameter_mm);
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
  take(length(frame_, {.label = "Size usually within ±",
                       .mm = value_.size_sd_mm,
                       .tooltip = kUsually,
                       .least_allowed = true}),
       value_.size_sd_mm);
  if (is_disc(value_) || !value_.width_mm || !value_.height_mm) return;
  if (kit::link(frame_, "Swap width and height", "For a card that is set upright on its end.")) {
    std::swap(value_.width_mm, value_.height_mm);
    changed_ = true;
  }
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
  kit::tip(frame_, std::string(words.sentence));
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (chosen || pointed) {
    list.AddRectFilled(from, to, paint(look.colours.sunk), ImGui::GetStyle().FrameRounding);
  }
  if (chosen) {
    list.AddRect(from, to, paint(look.colours.accent), ImGui::GetStyle().FrameRounding, 0,
                 look.px(1.6));
  }
  const float drawn = look.px(44);
  place_drawing(list, ImVec2(from.x + look.px(4), from.y + look.px(4)),
                ImVec2(size.x - look.px(8), drawn), words.place, look);
  // The title on two lines in the middle.
  const ImFont* const font = look.fonts.note;
  const float room = size.x - look.px(6);
  const char* line = title.c_str();
  const char* const end = line + title.size();
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
  const float gap = ImGui::GetStyle().ItemSpacing.x;
  const ImVec2 size(0.5F * (ImGui::GetContentRegionAvail().x - gap), frame_.look.px(80));
  std::size_t number = 0;
  for (const PlaceWords& words : all_places()) {
    if (number++ % 2 == 1) ImGui::SameLine(0.0F, gap);
    place_tile(words, size);
  }
}

void Editor::glass() {
  if (place_of_key(value_.place) != Place::kOnGlass) return;
  const std::optional<double> distance =
      length(frame_, {.label = "From the glass to the vessel's middle",
                      .mm = value_.glass_to_axis_mm,
                      .tooltip = "From the face of the glass that carries the reference to the "
                                 "middle of the vessel, straight in. It decides how far the sizes "
                                 "can be trusted."});
  take(distance, value_.glass_to_axis_mm);
  if (distance && value_.glass_to_axis_sd_mm == 0.0) {
    value_.glass_to_axis_sd_mm = kTypedDistanceDoubtMm;
  }
  take(length(frame_, {.label = "That distance usually within ±",
                       .mm = value_.glass_to_axis_sd_mm,
                       .tooltip = kUsually,
                       .least_allowed = true}),
       value_.glass_to_axis_sd_mm);
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
  const std::optional<Place> place = place_of_key(value_.place);
  if (!place || *place == Place::kOnGlass) return;
  const bool used = value_.riser_mm != 0.0 || value_.riser_sd_mm != 0.0;
  if (!kit::fold(frame_, "On another level", used)) return;
  take(length(frame_, {.label = "Vessel higher by",
                       .mm = value_.riser_mm,
                       .tooltip = "The height of the stand or step that the vessel is on; below "
                                  "zero where the reference is the higher of the two.",
                       .least_mm = -kLargestMm}),
       value_.riser_mm);
  take(length(frame_, {.label = "Step usually within ±",
                       .mm = value_.riser_sd_mm,
                       .tooltip = kUsually,
                       .least_allowed = true}),
       value_.riser_sd_mm);
}

void Editor::marks() {
  kit::heading(frame_, "Marks");
  Tool& tool = frame_.state.tool;
  const Tool point_tool = marking_tool(index_);
  const Tool edge_tool = marking_tool(index_, ToolKind::kEdges);
  const bool pointing = tool == point_tool;
  const bool along = tool.kind == ToolKind::kEdges && tool.reference == index_;
  const std::size_t there = marked();
  const bool full = !is_disc(value_) && there >= kCornerCount;
  const auto start = [&](const Tool& next) {
    frame_.state.tool = next;
    frame_.state.canvas.edge_points.clear();
    frame_.state.middle = Middle::kPhoto;
  };
  const std::string points = is_disc(value_) ? "Mark its edge" : "Mark its corners";
  const char* const all_there = "All four are marked. Drag a corner to move it.";
  if (pointing) {
    if (kit::choice(frame_, points, true, {.tooltip = "Press it again when you are done."})) {
      tool = Tool{};
    }
  } else if (kit::button(frame_, points,
                         {.enabled = !full,
                          .reason = all_there,
                          .tooltip = "Then click on the photograph.",
                          .accent = reference_missing(value_).size() == 1 && !along})) {
    start(point_tool);
  }
  if (!is_disc(value_)) {
    if (kit::choice(frame_, "Mark along its edges", along,
                    {.tooltip = "For rounded corners, as of a bank card: click two points on each "
                                "straight edge, and the corners are worked out where the edges "
                                "would meet."})) {
      along ? void(tool = Tool{}) : start(edge_tool);
    }
  }
  if (along) {
    const std::size_t clicked = frame_.state.canvas.edge_points.size();
    constexpr std::array<const char*, kCornerCount> kUpright{"lower", "right", "upper", "left"};
    constexpr std::array<const char*, kCornerCount> kFlat{"near", "right", "far", "left"};
    const bool lying = place_of_key(value_.place) == Place::kLying;
    const std::size_t edge = std::min(clicked / 2, kCornerCount - 1);
    kit::words(frame_, std::string(clicked % 2 == 0 ? "Click a point on its " : "Another on its ") +
                           (lying ? kFlat : kUpright).at(edge) +
                           " edge, well apart: " + std::to_string(clicked) + " of 8.");
    kit::note(frame_, "Stay off the rounded corners; they are worked out from the straight edges.");
  } else if (there > 0 || pointing) {
    kit::words(frame_, reference_prompt(value_));
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
  Editor editor(frame, index, now);
  if (takes_marks(now)) {
    editor.size();
    editor.place();
    editor.glass();
    editor.marks();
    editor.riser();
  }
  editor.removal();
  editor.finish();
  ImGui::PopID();
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "desktop/window/kit.h"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

#include "core/text.h"
#include "core/typed_number.h"

namespace potshadow::kit {
namespace {

// What is shown of a label.
std::string shown(const std::string& label) { return label.substr(0, label.find("##")); }

// What a description calls it: what is shown, else what stands after "##".
std::string called(const std::string& label) {
  const std::string words = shown(label);
  constexpr std::size_t kMark = 2;
  return words.empty() && label.size() > kMark ? label.substr(kMark) : words;
}

float width_of(const Frame& frame, double asked, const std::string& label) {
  if (asked < 0.0) return ImGui::GetContentRegionAvail().x;
  if (asked > 0.0) return frame.look.px(asked);
  return ImGui::CalcTextSize(shown(label).c_str()).x + 2.0F * ImGui::GetStyle().FramePadding.x;
}

// The words in lines that fit the room. Dear ImGui itself would break after a decimal point; a
// figure also keeps its ± and its %.
std::string in_lines(const std::string& text, float room) {
  std::string lines;
  std::string line;
  std::size_t at = 0;
  while (at <= text.size()) {
    std::size_t end = text.find_first_of(" \n", at);
    const auto goes_on = [&](std::string_view with) {
      return text.compare(end, with.size(), with) == 0;
    };
    while (end != std::string::npos && text[end] == ' ' &&
           (goes_on(" ± ") || goes_on(" %") ||
            text.compare(end - std::min<std::size_t>(end, 3), 3, " ±") == 0)) {
      end = text.find_first_of(" \n", end + 1);
    }
    const std::string piece = text.substr(at, end == std::string::npos ? end : end - at);
    const std::string longer = line.empty() ? piece : line + " " + piece;
    if (!line.empty() && ImGui::CalcTextSize(longer.c_str()).x > room) {
      lines += line + "\n";
      line = piece;
    } else {
      line = longer;
    }
    if (end == std::string::npos) break;
    if (text[end] == '\n') {
      lines += line + "\n";
      line.clear();
    }
    at = end + 1;
  }
  return lines + line;
}

void wrapped(const std::string& text) {
  const std::string lines = in_lines(text, ImGui::GetContentRegionAvail().x);
  ImGui::PushTextWrapPos(0.0F);  // for a single word that is too long
  ImGui::TextUnformatted(lines.c_str());
  ImGui::PopTextWrapPos();
}

void field_label(Frame& frame, const std::string& label) {
  const std::string text = shown(label);
  if (text.empty()) return;
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.quiet));
  wrapped(text);
  ImGui::PopStyleColor();
  ImGui::PopFont();
  ImGui::SetCursorPosY(ImGui::GetCursorPosY() - frame.look.px(4));
}

// The frame of a field in the theme's line colour, so that it is seen to be one.
void field_border(Frame& frame) {
  const ImVec2 from = ImGui::GetItemRectMin();
  const ImVec2 to = ImGui::GetItemRectMax();
  ImGui::GetWindowDrawList()->AddRect(
      from, to, paint(ImGui::IsItemActive() ? frame.look.colours.accent : frame.look.colours.line),
      ImGui::GetStyle().FrameRounding, 0, frame.look.px(ImGui::IsItemActive() ? 2 : 1));
}

struct Typed {
  bool finished = false;
  std::string text;
};

// A field whose text lives with the caller until it is left.
Typed typed_field(Frame& frame, const std::string& label, const std::string& value,
                  const FieldLook& look) {
  field_label(frame, label);
  const std::string id = "##" + label;
  const ImGuiID key = ImGui::GetID(id.c_str());
  auto& edits = frame.state.edits;
  std::string text = edits.contains(key) ? edits[key] : value;
  float room = width_of(frame, look.width, label);
  if (!look.unit.empty()) {
    room -= ImGui::CalcTextSize(look.unit.c_str()).x + ImGui::GetStyle().ItemInnerSpacing.x;
  }
  ImGui::SetNextItemWidth(room);
  ImGui::InputTextWithHint(id.c_str(), look.hint.c_str(), &text, ImGuiInputTextFlags_AutoSelectAll);
  Typed typed;
  if (ImGui::IsItemDeactivatedAfterEdit()) {
    typed = {true, text};
    edits.erase(key);
  } else if (ImGui::IsItemActive()) {
    edits[key] = text;
  } else if (edits.contains(key)) {
    typed = {true, text};  // it lost the keyboard without being left
    edits.erase(key);
  }
  field_border(frame);
  describe_last(frame, called(label));
  tip(frame, look.tooltip);
  if (!look.unit.empty()) {
    ImGui::SameLine(0.0F, ImGui::GetStyle().ItemInnerSpacing.x);
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(look.unit.c_str());
  }
  return typed;
}

bool plain_button(Frame& frame, const std::string& label, const ButtonLook& look, bool filled) {
  const ThemeColours& colours = frame.look.colours;
  if (filled) {
    ImGui::PushStyleColor(ImGuiCol_Button, paint(colours.accent));
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, paint(colours.accent, 0.9));
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, paint(colours.accent, 0.8));
    ImGui::PushStyleColor(ImGuiCol_Text, paint(colours.on_accent));
  }
  const float width = width_of(frame, look.width, label);
  if (!look.enabled) ImGui::BeginDisabled();
  const bool pressed = ImGui::Button(label.c_str(), ImVec2(width, 0.0F));
  if (!look.enabled) ImGui::EndDisabled();
  if (filled) ImGui::PopStyleColor(4);
  describe_last(frame, shown(label), look.enabled);
  tip(frame, look.enabled || look.reason.empty() ? look.tooltip : look.reason);
  return pressed && look.enabled;
}

}  // namespace

void title(Frame& frame, const std::string& text) {
  ImGui::PushFont(frame.look.fonts.title);
  wrapped(text);
  ImGui::PopFont();
}

void heading(Frame& frame, const std::string& text) {
  space(frame, 8.0);
  ImGui::PushFont(frame.look.fonts.strong);
  wrapped(text);
  ImGui::PopFont();
}

void words(Frame&, const std::string& text) { wrapped(text); }

void note(Frame& frame, const std::string& text) {
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.quiet));
  wrapped(text);
  ImGui::PopStyleColor();
  ImGui::PopFont();
}

void doubt(Frame& frame, const std::string& text) {
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float indent = frame.look.px(14);
  ImGui::Indent(indent);
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.doubt));
  wrapped(text);
  ImGui::PopStyleColor();
  ImGui::PopFont();
  ImGui::Unindent(indent);
  const float middle = from.y + frame.look.px(8);
  wave(frame, *ImGui::GetWindowDrawList(), ImVec2(from.x, middle), frame.look.px(9),
       paint(frame.look.colours.doubt));
}

void problem(Frame& frame, const Problem& problem) {
  doubt(frame, problem.what);
  ImGui::Indent(frame.look.px(14));
  note(frame, problem.next);
  ImGui::Unindent(frame.look.px(14));
  if (!problem.detail.empty() && fold(frame, "Details##" + problem.what)) {
    note(frame, problem.detail);
  }
}

void space(Frame& frame, double at_100_percent) {
  ImGui::Dummy(ImVec2(
      0.0F, std::max(0.0F, frame.look.px(at_100_percent) - ImGui::GetStyle().ItemSpacing.y)));
}

void row(Frame& frame, const std::string& label, const std::string& value) {
  const float start = ImGui::GetCursorPosX();
  const float room = ImGui::GetContentRegionAvail().x;
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.quiet));
  ImGui::TextUnformatted(label.c_str());
  ImGui::PopStyleColor();
  const float needed = ImGui::CalcTextSize(value.c_str()).x;
  const float label_width = ImGui::CalcTextSize(label.c_str()).x;
  if (label_width + needed + frame.look.px(8) <= room) {
    ImGui::SameLine(start + room - needed);
  } else if (needed <= room) {
    ImGui::SetCursorPos(ImVec2(start + room - needed, ImGui::GetCursorPosY() - frame.look.px(6)));
  }
  wrapped(value);
  ImGui::PopFont();
}

bool button(Frame& frame, const std::string& label, const ButtonLook& look) {
  return plain_button(frame, label, look, look.accent && look.enabled);
}

bool choice(Frame& frame, const std::string& label, bool chosen, const ButtonLook& look) {
  return plain_button(frame, label, look, chosen);
}

bool link(Frame& frame, const std::string& label, const std::string& tooltip) {
  ImGui::PushStyleColor(ImGuiCol_Button, 0);
  ImGui::PushStyleColor(ImGuiCol_ButtonHovered, paint(frame.look.colours.sunk));
  ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.accent));
  const bool pressed = ImGui::Button(label.c_str());
  ImGui::PopStyleColor(3);
  describe_last(frame, shown(label));
  tip(frame, tooltip);
  return pressed;
}

bool check(Frame& frame, const std::string& label, bool& value, const std::string& tooltip) {
  // The words of a long label run on below each other, beside the box.
  const bool changed = ImGui::Checkbox(("##" + label).c_str(), &value);
  const ImVec2 from = ImGui::GetItemRectMin();
  ImGui::GetWindowDrawList()->AddRect(from, ImGui::GetItemRectMax(), paint(frame.look.colours.line),
                                      ImGui::GetStyle().FrameRounding, 0, frame.look.px(1));
  describe_last(frame, shown(label));
  tip(frame, tooltip);
  ImGui::SameLine(0.0F, ImGui::GetStyle().ItemInnerSpacing.x);
  // After SameLine the words stand on the line of the box by themselves.
  ImGui::BeginGroup();
  wrapped(shown(label));
  ImGui::EndGroup();
  bool clicked = false;
  if (ImGui::IsItemHovered() && ImGui::IsMouseClicked(ImGuiMouseButton_Left)) {
    value = !value;
    clicked = true;
  }
  tip(frame, tooltip);
  return changed || clicked;
}

std::optional<std::optional<double>> number(Frame& frame, const std::string& label,
                                            std::optional<double> value, const FieldLook& look) {
  const std::string before = value ? typed_text(*value, look.decimals) : "";
  const Typed typed = typed_field(frame, label, before, look);
  if (!typed.finished || typed.text == before) return std::nullopt;
  if (typed.text.find_first_not_of(" \t") == std::string::npos) return std::optional<double>();
  const std::optional<double> read = typed_number(typed.text);
  if (!read) {
    complain(frame, "'" + typed.text + "' is not a number, so nothing was changed.",
             "Write it with digits, for example 12.5 or 3 1/2.");
    return std::nullopt;
  }
  return read;
}

std::optional<std::string> text(Frame& frame, const std::string& label, const std::string& value,
                                const FieldLook& look) {
  const Typed typed = typed_field(frame, label, value, look);
  if (!typed.finished || typed.text == value) return std::nullopt;
  return typed.text;
}

bool live_text(Frame& frame, const std::string& label, std::string& value, const FieldLook& look) {
  field_label(frame, label);
  ImGui::SetNextItemWidth(width_of(frame, look.width, label));
  const bool entered = ImGui::InputTextWithHint(("##" + label).c_str(), look.hint.c_str(), &value,
                                                ImGuiInputTextFlags_EnterReturnsTrue);
  field_border(frame);
  describe_last(frame, called(label));
  tip(frame, look.tooltip);
  return entered;
}

bool slider(Frame& frame, const std::string& label, double& value, double least, double most,
            double normal, const std::string& shown_value) {
  field_label(frame, label);
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
  const double before = value;
  ImGui::SliderScalar(("##" + label).c_str(), ImGuiDataType_Double, &value, &least, &most,
                      shown_value.c_str(), ImGuiSliderFlags_NoInput);
  if (ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) value = normal;
  field_border(frame);
  describe_last(frame, shown(label));
  tip(frame, "Double click to set it back.");
  return value != before;
}

std::optional<std::size_t> list(Frame& frame, const std::string& label,
                                const std::vector<std::string>& entries, std::size_t chosen,
                                const std::string& tooltip, double width) {
  field_label(frame, label);
  ImGui::SetNextItemWidth(width_of(frame, width, label));
  std::optional<std::size_t> picked;
  const std::string preview = chosen < entries.size() ? entries[chosen] : "";
  const bool open =
      ImGui::BeginCombo(("##" + label).c_str(), preview.c_str(), ImGuiComboFlags_HeightLarge);
  if (!open) {
    field_border(frame);
    describe_last(frame, called(label));
    tip(frame, tooltip);
    return picked;
  }
  for (std::size_t i = 0; i < entries.size(); ++i) {
    if (ImGui::Selectable((entries[i] + "##" + std::to_string(i)).c_str(), i == chosen)) picked = i;
    describe_last(frame, entries[i]);
    if (i == chosen) ImGui::SetItemDefaultFocus();
  }
  ImGui::EndCombo();
  return picked;
}

bool fold(Frame& frame, const std::string& label, bool open_at_first) {
  auto& folds = frame.state.open_folds;
  const auto found = folds.emplace(label, open_at_first).first;
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleColor(ImGuiCol_Button, 0);
  ImGui::PushStyleColor(ImGuiCol_ButtonHovered, paint(frame.look.colours.sunk));
  ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, ImVec2(0.0F, 0.5F));
  const float text_height = ImGui::GetTextLineHeight();
  const std::string padded = "     " + shown(label) + "##fold " + label;
  if (ImGui::Button(padded.c_str(), ImVec2(ImGui::GetContentRegionAvail().x, 0.0F))) {
    found->second = !found->second;
  }
  // A small triangle that turns.
  const ImVec2 corner = ImGui::GetItemRectMin();
  const float middle = 0.5F * (corner.y + ImGui::GetItemRectMax().y);
  const float size = 0.32F * text_height;
  const float x = corner.x + frame.look.px(8) + size;
  const ImU32 colour = paint(frame.look.colours.quiet);
  if (found->second) {
    ImGui::GetWindowDrawList()->AddTriangleFilled(ImVec2(x - size, middle - 0.6F * size),
                                                  ImVec2(x + size, middle - 0.6F * size),
                                                  ImVec2(x, middle + 0.8F * size), colour);
  } else {
    ImGui::GetWindowDrawList()->AddTriangleFilled(ImVec2(x - 0.6F * size, middle - size),
                                                  ImVec2(x - 0.6F * size, middle + size),
                                                  ImVec2(x + 0.8F * size, middle), colour);
  }
  ImGui::PopStyleVar();
  ImGui::PopStyleColor(2);
  ImGui::PopFont();
  describe_last(frame, shown(label));
  return found->second;
}

bool busy(Frame& frame, const std::optional<Busy>& busy, const std::string& stop) {
  if (!busy) return false;
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - busy->since;
  constexpr double kPatience = 0.5;  // seconds
  if (taken.count() < kPatience) return false;
  if (!busy->words.empty()) note(frame, busy->words + " …");
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const float height = frame.look.px(4);
  float start = static_cast<float>(0.375 - 0.375 * std::cos(2.0 * taken.count()));
  float end = start + 0.25F;
  if (busy->part) {
    start = 0.0F;
    end = static_cast<float>(std::clamp(*busy->part, 0.02, 1.0));
  }
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(from, ImVec2(from.x + width, from.y + height), paint(frame.look.colours.sunk),
                     0.5F * height);
  list.AddRectFilled(ImVec2(from.x + start * width, from.y),
                     ImVec2(from.x + end * width, from.y + height),
                     paint(frame.look.colours.accent), 0.5F * height);
  ImGui::Dummy(ImVec2(width, height));
  if (stop.empty()) return false;
  ButtonLook look;
  look.tooltip = stop;
  look.width = 0.0;
  return button(frame, "Stop", look);
}

void say(Frame& frame, const std::string& text) {
  frame.state.said = {text, false, "", frame.state.now};
}

void complain(Frame& frame, const std::string& what, const std::string& next) {
  frame.state.said = {what, true, next, frame.state.now};
}

void tip(Frame& frame, const std::string& text) {
  if (text.empty() || !ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(frame.look.px(10), frame.look.px(8)));
  ImGui::BeginTooltip();
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushTextWrapPos(frame.look.px(300));
  ImGui::TextUnformatted(text.c_str());
  ImGui::PopTextWrapPos();
  ImGui::PopFont();
  ImGui::EndTooltip();
  ImGui::PopStyleVar();
}

void describe_last(Frame& frame, const std::string& label, bool enabled) {
  if (frame.state.keys_for_panels && ImGui::IsItemFocused()) {
    const float gap = frame.look.px(2);
    const ImVec2 from = ImGui::GetItemRectMin();
    const ImVec2 to = ImGui::GetItemRectMax();
    ImGui::GetWindowDrawList()->AddRect(
        ImVec2(from.x - gap, from.y - gap), ImVec2(to.x + gap, to.y + gap),
        paint(frame.look.colours.accent), ImGui::GetStyle().FrameRounding, 0, frame.look.px(2));
  }
  if (!frame.description.wanted()) return;
  if (!ImGui::IsItemVisible()) return;
  const ImVec2 from = ImGui::GetItemRectMin();
  const ImVec2 to = ImGui::GetItemRectMax();
  frame.description.widget(label, from.x, from.y, to.x - from.x, to.y - from.y, enabled);
}

void wave(Frame& frame, ImDrawList& list, ImVec2 from, float width, ImU32 colour) {
  constexpr int kPoints = 13;
  const float height = frame.look.px(2);
  ImVec2 points[kPoints];
  for (int i = 0; i < kPoints; ++i) {
    const float t = static_cast<float>(i) / (kPoints - 1);
    points[i] = ImVec2(from.x + t * width, from.y - height * std::sin(t * 12.566F));
  }
  list.AddPolyline(points, kPoints, colour, 0, frame.look.px(1.5));
}

}  // namespace potshadow::kit

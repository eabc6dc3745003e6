// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "desktop/window/budget_bar.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/section_drawing.h"
#include "desktop/window/staleness.h"
#include "desktop/window/work_state.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/figures_words.h"
#include "desktop/words/note_words.h"
#include "desktop/words/profile_words.h"

namespace potshadow {
namespace {

// Height of the drawn section, at 100 %.
constexpr double kLeastDrawing = 220.0;
constexpr double kMostDrawing = 320.0;

std::string copied_text(const FigureRow& row) {
  std::string text = row.label + " " + row.value + " ± " + row.plus_minus + " " + row.unit;
  if (!row.sixteenths.empty()) text += " (" + row.sixteenths + " in)";
  if (row.guessed) text += ", guessed scale";
  if (row.wet_value.empty()) return text;
  text += ", wet " + row.wet_value + " ± " + row.wet_plus_minus + " " + row.unit;
  if (!row.wet_sixteenths.empty()) text += " (" + row.wet_sixteenths + " in)";
  return text;
}

std::string row_tooltip(const FigureRow& row) {
  std::string text = row.tooltip + "\n\nWith 95 % certainty " + row.interval + " " + row.unit + ".";
  if (row.guessed) text += "\nIts scale is a guess.";
  if (row.doubtful) text += "\n" + row.doubt;
  return text + "\nClick to copy it.";
}

// Keeps a number with its sign and unit at the end of a line.
std::string held_together(std::string text) {
  constexpr std::string_view kHard = "\u00A0";
  for (const std::string_view piece : {"± ", " %"}) {
    const std::size_t blank = piece.find(' ');
    for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at)) {
      text.replace(at + blank, 1, kHard);
      at += piece.size();
    }
  }
  return text;
}

// A piece of text that ends at `right`; returns where it begins.
float right_aligned(ImDrawList& list, ImFont* font, float right, float baseline, ImU32 colour,
                    const std::string& text) {
  const float width = font->CalcTextSizeA(font->FontSize, 1e6F, 0.0F, text.c_str()).x;
  list.AddText(font, font->FontSize, ImVec2(right - width, baseline - font->Ascent), colour,
               text.c_str());
  return right - width;
}

// One size: its name, its figure, and below it the sixteenths and the wet size where there are any.
// Returns whether it is pointed at.
bool figure_row(Frame& frame, const FigureRow& row, double opacity, bool lit) {
  const ThemeColours& colours = frame.look.colours;
  const Fonts& fonts = frame.look.fonts;
  const float line = frame.look.px(row.leading ? 28 : 19);
  std::string below;
  if (row.guessed) below = "guessed scale";
  if (!row.sixteenths.empty()) below += (below.empty() ? "" : "  ·  ") + row.sixteenths + " in";
  if (!row.wet_value.empty()) {
    below += (below.empty() ? "" : "  ·  ") + ("wet " + row.wet_value) + " ± " + row.wet_plus_minus;
    if (!row.wet_sixteenths.empty()) below += ", " + row.wet_sixteenths + " in";
  }
  const float height = line + (below.empty() ? 0.0F : frame.look.px(16)) + frame.look.px(4);
  const float width = ImGui::GetContentRegionAvail().x;
  const ImVec2 from = ImGui::GetCursorScreenPos();
  const float bleed = frame.look.px(8);
  ImDrawList& list = *ImGui::GetWindowDrawList();

  ImGui::InvisibleButton(row.label.c_str(), ImVec2(width, height));
  const bool pointed = ImGui::IsItemHovered();
  const bool copy = pointed && (ImGui::IsMouseReleased(ImGuiMouseButton_Right) ||
                                ImGui::IsMouseReleased(ImGuiMouseButton_Left));
  kit::describe_last(frame, "Copy " + with_small_start(row.label));
  if (pointed) {
    // Beside the column, so that the drawing below stays in sight.
    ImGui::SetNextWindowPos(ImVec2(from.x - frame.look.px(24), from.y), ImGuiCond_Always,
                            ImVec2(1.0F, 0.0F));
    kit::tip(frame, row_tooltip(row));
  }
  if (pointed) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  if (copy) {
    frame.ask(CopyText{copied_text(row), "Copied the " + with_small_start(row.label) + "."});
  }
  if (lit || pointed) {
    list.AddRectFilled(ImVec2(from.x - bleed, from.y),
                       ImVec2(from.x + width + bleed, from.y + height), paint(colours.sunk),
                       frame.look.px(4));
    list.AddRectFilled(ImVec2(from.x - bleed, from.y),
                       ImVec2(from.x - bleed + frame.look.px(3), from.y + height),
                       paint(colours.accent), frame.look.px(1.5));
  }

  const float baseline = from.y + frame.look.px(row.leading ? 22 : 15);
  const float right = from.x + width;
  const ImU32 strong = paint(colours.text, opacity);
  const ImU32 quiet = paint(colours.quiet, opacity);
  ImFont* const label_font = row.leading ? fonts.text : fonts.note;
  const float ascent = label_font->Ascent;
  list.AddText(label_font, label_font->FontSize, ImVec2(from.x, baseline - ascent),
               row.leading ? strong : quiet, row.label.c_str());
  // Value and ± each end at a line of their own, so that figures stand under each other.
  const float unit_from =
      right - fonts.note->CalcTextSizeA(fonts.note->FontSize, 1e6F, 0.0F, "mm").x;
  list.AddText(fonts.note, fonts.note->FontSize, ImVec2(unit_from, baseline - fonts.note->Ascent),
               quiet, row.unit.c_str());
  const float doubt_right = unit_from - frame.look.px(4);
  right_aligned(list, fonts.note, doubt_right, baseline, quiet, "± " + row.plus_minus);
  const float value_right = doubt_right - frame.look.px(50);
  const float value_left = right_aligned(list, row.leading ? fonts.figure : fonts.text, value_right,
                                         baseline, strong, row.value);
  if (row.doubtful) {
    kit::wave(frame, list, ImVec2(value_left, baseline + frame.look.px(4)),
              value_right - value_left, paint(colours.doubt, opacity));
  }
  if (!below.empty()) {
    right_aligned(list, fonts.note, right, baseline + frame.look.px(row.leading ? 18 : 16), quiet,
                  below);
  }
  return pointed;
}

// The vessel's name, and the unit to show everything in.
void head(Frame& frame) {
  const float start = ImGui::GetCursorPosX();
  const float room = ImGui::GetContentRegionAvail().x;
  const float gap = frame.look.px(4);
  const float unit_width = frame.look.px(38);
  const float units = 3.0F * unit_width + 2.0F * gap;
  const float top = ImGui::GetCursorPosY();
  ImGui::BeginGroup();
  ImGui::SetCursorPosY(top + ImGui::GetStyle().FramePadding.y);
  ImGui::PushTextWrapPos(start + room - units - frame.look.px(12));
  ImGui::PushFont(frame.look.fonts.strong);
  const std::string title = frame.session.title();
  ImGui::TextUnformatted(title.empty() ? "The vessel" : title.c_str());
  ImGui::PopFont();
  ImGui::PopTextWrapPos();
  ImGui::EndGroup();
  const float after = ImGui::GetCursorPosY();
  ImGui::SetCursorPos(ImVec2(start + room - units, top));
  struct Offer {
    LengthUnit unit;
    const char* label;
    const char* tooltip;
  };
  constexpr Offer kOffers[] = {{LengthUnit::kMm, "mm", "Show lengths in millimetres."},
                               {LengthUnit::kCm, "cm", "Show lengths in centimetres."},
                               {LengthUnit::kInch, "in", "Show lengths in inches."}};
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0.0F, frame.look.px(5)));
  for (const Offer& offer : kOffers) {
    if (offer.unit != LengthUnit::kMm) ImGui::SameLine(0.0F, gap);
    kit::ButtonLook look;
    look.tooltip = offer.tooltip;
    look.width = 38.0;
    if (kit::choice(frame, offer.label, frame.settings.unit == offer.unit, look)) {
      Settings settings = frame.settings;
      settings.unit = offer.unit;
      frame.ask(ChangeSettings{settings});
    }
  }
  ImGui::PopStyleVar();
  ImGui::PopFont();
  ImGui::SetCursorPosY(std::max(after, ImGui::GetCursorPosY()));
}

void before_the_first(Frame& frame) {
  const Figures& figures = frame.session.figures();
  const WorkState work = work_state(frame);
  kit::note(
      frame,
      "The sizes and the drawn section appear here as soon as the marks give them, and follow "
      "every change.");
  const Step due = step_due(frame.document(), work);
  kit::heading(frame, "Next: " + with_small_start(step_title(due)));
  kit::words(frame, next_action(due, frame.document(), work));
  // Marks that are merely missing are what the words above ask for.
  if (figures.problem && figures.problem->code != Code::kTooFewMarks &&
      figures.problem->code != Code::kCannotBeAnswered) {
    kit::space(frame);
    kit::problem(frame, *figures.problem);
  }
}

// What each size is limited by, for those who want to know more than the advice.
void limits(Frame& frame, const Answer& answer) {
  if (answer.scale == ScaleSource::kNone) return;
  if (!kit::fold(frame, "What limits each size")) return;
  for (const MeasuredSize& size : answer.sizes) {
    ImGui::PushFont(frame.look.fonts.note);
    ImGui::TextUnformatted(std::string(size_words(size.name)).c_str());
    ImGui::PopFont();
    budget_bar(frame, size);
    kit::space(frame, 8);
  }
}

// What holds without a scale, in the place of the sizes.
void proportions(Frame& frame, const Answer& answer, double opacity) {
  ImGui::PushStyleVar(ImGuiStyleVar_Alpha, static_cast<float>(opacity));
  for (const ProportionRow& row : proportion_rows(answer)) {
    kit::row(frame, row.words, row.value + " ± " + row.plus_minus);
    kit::tip(frame, row.meaning);
  }
  ImGui::PopStyleVar();
  kit::space(frame);
}

// The height that a note of these words takes.
float note_height(const Frame& frame, const std::string& text) {
  const ImFont& font = *frame.look.fonts.note;
  return font.CalcTextSizeA(font.FontSize, 1e6F, ImGui::GetContentRegionAvail().x, text.c_str()).y +
         ImGui::GetStyle().ItemSpacing.y;
}

void notes(Frame& frame, const std::vector<Note>& all) {
  for (const Note& note : all) {
    if (note.doubtful) kit::doubt(frame, note.text);
  }
  const auto quiet =
      std::count_if(all.begin(), all.end(), [](const Note& n) { return !n.doubtful; });
  if (quiet == 0) return;
  if (!kit::fold(frame, "Notes")) return;
  for (const Note& note : all) {
    if (!note.doubtful) kit::note(frame, note.text);
  }
}

}  // namespace

void figures_side(Frame& frame) {
  const Figures& figures = frame.session.figures();
  head(frame);
  if (!figures.measurement) {
    before_the_first(frame);
    kit::busy(frame, figures.busy);
    return;
  }
  const Measurement& measurement = *figures.measurement;
  const bool grey = greyed(figures);
  const double opacity = grey ? 0.5 : 1.0;

  const std::optional<SizeName> lit = frame.state.canvas.lit_size;
  std::optional<SizeName> pointed;
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0.0F, frame.look.px(2)));
  for (const FigureRow& row : figure_rows(measurement, frame.settings.unit)) {
    if (figure_row(frame, row, opacity, lit == row.name)) pointed = row.name;
  }
  ImGui::PopStyleVar();
  if (grey) {
    if (figures.problem) {
      kit::doubt(frame, stale_words(&*figures.problem));
    } else {
      kit::note(frame, stale_words(nullptr));
    }
  }
  kit::busy(frame, figures.busy);

  if (measurement.answer.scale == ScaleSource::kNone) {
    kit::note(frame, scale_words(measurement.answer.scale));
    proportions(frame, measurement.answer, opacity);
  }

  // The drawing is as large as it can be with the advice still in sight.
  const std::string advice = held_together(advice_words(measurement.answer, frame.settings.unit));
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float below = note_height(frame, advice) + 2.0F * ImGui::GetFrameHeightWithSpacing();
  const double most = static_cast<double>(
      std::clamp(room.y - below, frame.look.px(kLeastDrawing), frame.look.px(kMostDrawing)));
  const double width = static_cast<double>(room.x);
  const double height = section_height(frame, measurement, width, most);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const ScreenBox box{static_cast<double>(corner.x), static_cast<double>(corner.y), width, height};
  if (const auto line = section_drawing(frame, measurement, !grey, box)) pointed = line;
  if (pointed) frame.state.canvas.hovered_size = pointed;
  ImGui::Dummy(ImVec2(static_cast<float>(width), static_cast<float>(height)));

  const std::string unknown = unknown_profile_words(measurement.answer, frame.settings.unit);
  if (!unknown.empty()) kit::doubt(frame, unknown);
  if (!figures.problem && !advice.empty()) kit::note(frame, advice);
  notes(frame, window_notes(measurement));
  limits(frame, measurement.answer);
}

}  // namespace potshadow

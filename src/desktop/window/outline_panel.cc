// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include "core/text.h"
#include "desktop/document/shown_photo.h"
#include "desktop/window/canvas_input.h"
#include "desktop/window/hidden_parts.h"
#include "desktop/window/kit.h"
#include "desktop/window/mark_choice.h"
#include "desktop/window/panels.h"
#include "desktop/window/trace_panel.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/outline_words.h"
#include "desktop/words/trace_words.h"

namespace potshadow {
namespace {

constexpr std::array<MarkKind, 4> kKinds{MarkKind::kRim, MarkKind::kBase, MarkKind::kLeft,
                                         MarkKind::kRight};
constexpr double kMostMarkDoubt = 100.0;  // pixels; beyond, a mark says nothing
constexpr double kMostOutOfRound = 20.0;  // percent; beyond, the vessel is no round one

bool is_side(MarkKind kind) { return kind == MarkKind::kLeft || kind == MarkKind::kRight; }

std::size_t count_of(MarkKind kind, const ProjectMarks& marks) {
  if (kind == MarkKind::kRim) return marks.rim.size();
  if (kind == MarkKind::kBase) return marks.base.size();
  return kind == MarkKind::kLeft ? marks.left.size() : marks.right.size();
}

// "7" where that is enough, "3 of 5" where it is not, "3 + 186" where some were found. The sides
// are counted together, so each tells its own number only. `all` are the marks that count.
std::string count_text(MarkKind kind, const ProjectMarks& marks, const ProjectMarks& all,
                       bool round_base) {
  const std::size_t by_hand = count_of(kind, marks);
  const std::size_t found = count_of(kind, all) - by_hand;
  std::string count = std::to_string(by_hand);
  if (found > 0) count += " + " + std::to_string(found);
  if (is_side(kind) || marks_wanting(kind, all, round_base) == 0) return count;
  return count + " of " + std::to_string(mark_kind_words(kind, round_base).least);
}

// --- Tools ------------------------------------------------------------------------------------

// Why there is nothing to mark, or nothing.
std::optional<std::string> unseen(const Document& document, MarkKind kind) {
  if (kind == MarkKind::kBase && document.hidden_foot) {
    return "The foot can't be seen, so it takes no marks.";
  }
  if (kind == MarkKind::kRim && document.hidden_rim) {
    return "The rim is broken or can't be seen, so it takes no marks.";
  }
  if (kind == MarkKind::kBase && document.round_base) {
    return std::string(mark_kind_words(kind, true).why);
  }
  return std::nullopt;
}

void kind_row(Frame& frame, MarkKind kind, const ProjectMarks& marks, const ProjectMarks& all,
              bool round_base) {
  Tool& tool = frame.state.tool;
  const Tool own{.kind = ToolKind::kMark, .mark = kind};
  const bool chosen = tool.kind == ToolKind::kMark && tool.mark == kind;
  const std::optional<std::string> why_not = unseen(frame.document(), kind);
  const bool hidden = why_not.has_value();
  const MarkKindWords words = mark_kind_words(kind, round_base);
  const std::string count = hidden ? "" : count_text(kind, marks, all, round_base);
  if (mark_choice(frame, std::string(words.title), kind, MarkPart::kVessel, chosen, count,
                  {.enabled = !hidden,
                   .reason = why_not.value_or(""),
                   .tooltip = std::string(words.what) + " " + std::string(words.why)})) {
    tool = chosen ? Tool{} : own;
    frame.state.middle = Middle::kPhoto;
  }
}

void tools(Frame& frame, const ProjectPhoto& photo) {
  const bool round_base = frame.document().round_base;
  const ProjectMarks all = counted_marks(photo);
  Tool& tool = frame.state.tool;
  const bool selecting = tool.kind == ToolKind::kSelect;
  if (kit::choice(frame, "Select and move", selecting,
                  {.tooltip = "Click a mark to select it, drag it to its place, or drag across "
                              "several (Esc)."})) {
    tool = Tool{};
    frame.state.middle = Middle::kPhoto;
  }
  for (const MarkKind kind : kKinds) kind_row(frame, kind, photo.marks, all, round_base);
  if (selecting) {
    const std::size_t wanting = marks_wanting(MarkKind::kLeft, all, round_base);
    if (wanting > 0) {
      kit::note(frame, "Both sides together still need " + counted(wanting, "mark", "marks") + ".");
    }
    return;
  }
  if (tool.kind != ToolKind::kMark || tool.mark == MarkKind::kReference) return;
  const MarkKindWords words = mark_kind_words(tool.mark, round_base);
  kit::words(frame, std::string(words.what));
  kit::note(frame, std::string(words.why));
  kit::words(frame, mark_prompt(tool.mark, all, round_base));
}

// --- What is selected -------------------------------------------------------------------------

void selected(Frame& frame) {
  kit::heading(frame, "Marks");
  CanvasWork& canvas = frame.state.canvas;
  const std::size_t count = canvas.selection.size();
  const bool any = count > 0;
  const std::string none =
      "Nothing is selected. Choose 'Select and move', then click a mark or drag across several.";
  kit::note(frame, any ? counted(count, "mark", "marks") + " selected" : "None selected");
  const bool pixels = frame.session.photo().picture != nullptr;
  if (kit::button(frame, "Snap the selected",
                  {.enabled = any && pixels,
                   .reason = any ? "The photograph is needed to find its edges." : none,
                   .tooltip = "Moves each to the strongest edge nearby (E). A shadow's edge may be "
                              "stronger than the pot's: look at them after it."})) {
    frame.ask(SnapMarks{canvas.selection});
  }
  if (kit::button(frame, "Remove the selected",
                  {.enabled = any, .reason = none, .tooltip = "Undo brings them back (Delete)."})) {
    frame.ask(Perform{RemoveMarks{canvas.selection}});
    canvas.selection.clear();
  }
  kit::check(frame, "Snap new marks to edges", canvas.snap_new_marks,
             "Each new mark goes to the strongest edge near the click; drag it where that is not "
             "the vessel's.");
}

// --- The vessel -------------------------------------------------------------------------------

void vessel(Frame& frame, const ProjectPhoto& photo) {
  kit::heading(frame, "Vessel");
  bool round = frame.document().round_base;
  if (kit::check(frame, "Round base", round,
                 "It rests on a rounded bottom and has no foot that could be marked.")) {
    frame.ask(Perform{SetRoundBase{round}});
    if (round && frame.state.tool == Tool{.kind = ToolKind::kMark, .mark = MarkKind::kBase}) {
      frame.state.tool = Tool{};
    }
  }
  hidden_parts(frame);
  const auto precision = kit::number(
      frame, "How well you can place a mark", photo.marks.sd_px,
      {.unit = "px",
       .tooltip = "How far a mark may well be off its edge, in pixels of the photograph: 1 for a "
                  "sharp picture, 2 or 3 for a soft or dark one. All intervals follow from it."});
  if (precision) {
    if (*precision && **precision > 0.0 && **precision <= kMostMarkDoubt) {
      frame.ask(Perform{SetMarkPrecision{frame.state.photo, **precision}});
    } else {
      kit::complain(frame, "That is not how well a mark can be placed, so nothing was changed.",
                    "Type a number of pixels above 0, such as 1.");
    }
  }
  if (!kit::fold(frame, "How round it is")) return;
  const auto out_of_round = kit::number(
      frame, "Out of round by about", frame.document().out_of_round_percent,
      {.unit = "%",
       .tooltip = "How far one diameter may well differ from the mean: 1 % for hand-built ware, "
                  "less for thrown ware. No photograph from one side can show it."});
  if (!out_of_round) return;
  if (*out_of_round && **out_of_round >= 0.0 && **out_of_round <= kMostOutOfRound) {
    frame.ask(Perform{SetOutOfRound{**out_of_round}});
  } else {
    kit::complain(frame, "That is not how far out of round a vessel is, so nothing was changed.",
                  "Type a percentage from 0 to 20, such as 1.");
  }
}

// --- How well the marks fit -------------------------------------------------------------------

void fit(Frame& frame) {
  const Figures& figures = frame.session.figures();
  kit::heading(frame, "Fit");
  kit::busy(frame, figures.busy);
  kit::check(frame, "Show the fitted vessel", frame.state.canvas.show_fit,
             "Draws the vessel that fits the marks best over the photograph, hidden lines dashed.");
  if (figures.problem) kit::problem(frame, *figures.problem);
  if (figures.measurement == nullptr) {
    if (!figures.problem) kit::note(frame, "How well the marks fit is told once there are enough.");
    return;
  }
  const Measurement& measurement = *figures.measurement;
  const Fit& fit = measurement.answer.fit;
  if (!figures.current) kit::note(frame, "From before the last change:");
  kit::words(frame, fit_sentence(fit));
  if (fit.worst.empty()) return;
  kit::note(frame, worst_mark_words(measurement) + ". Press a mark to see it:");
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ImGui::GetStyle().ItemSpacing.x, 0.0F));
  for (const MarkResidual& mark : fit.worst) {
    const MarkId id = mark_in(measurement, mark.place);
    const std::optional<PhotoPoint> by_hand = point_at(frame.document(), id);
    const std::optional<PhotoPoint> at = by_hand ? by_hand : traced_point_at(frame.document(), id);
    if (!at) continue;
    const std::string name = !by_hand ? with_large_start(mark_words(frame.document(), id))
                             : mark.place.kind == MarkKind::kBase
                                 ? "Foot " + std::to_string(mark.place.number + 1)
                                 : with_large_start(mark.mark);
    const std::string label =
        name + ", " + fixed_text(mark.off_px, 1) + " px##" + mark_words(frame.document(), id);
    const std::string tooltip = with_large_start(mark_words(frame.document(), id)) + ": " +
                                fixed_text(mark.off_sd, 1) +
                                " times what marking allows. Look whether it sits on the edge.";
    if (!kit::link(frame, label, tooltip)) continue;
    frame.ask(ShowPhoto{id.photo});
    frame.state.middle = Middle::kPhoto;
    frame.state.tool = Tool{};
    if (by_hand) {
      frame.state.canvas.selection = {id};
      frame.state.canvas.magnified = *at;
    } else {
      select_mark(frame, id);
    }
  }
  ImGui::PopStyleVar();
}

}  // namespace

void outline_panel(Frame& frame) {
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) {
    kit::words(frame, "Open a photograph first.");
    return;
  }
  trace_panel(frame, *photo);
  kit::heading(frame, "By hand");
  tools(frame, *photo);
  selected(frame);
  vessel(frame, *photo);
  fit(frame);
}

}  // namespace potshadow

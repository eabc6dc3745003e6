// SPDX-License-Identifier: MIT
// The pieces that every panel is made of: headings, words, buttons, fields, folds.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "desktop/window/frame.h"

// Each piece takes the width that is left, unless it says otherwise, and tells the description what
// it is and where. Labels are unique within a panel; what follows "##" in one is not shown.
namespace potshadow::kit {

// --- Words ------------------------------------------------------------------------------------
void title(Frame& frame, const std::string& text);    // 28
void heading(Frame& frame, const std::string& text);  // semi-bold, with room above
void words(Frame& frame, const std::string& text);    // 15, wrapped
void note(Frame& frame, const std::string& text);     // 13, quiet, wrapped
void doubt(Frame& frame, const std::string& text);    // ochre with a wavy line beside it, wrapped
void problem(Frame& frame, const Problem& problem);   // what happened, what to do, a details fold
void space(Frame& frame, double at_100_percent = 8.0);
// A row of a quiet label and its value, the value at the right half.
void row(Frame& frame, const std::string& label, const std::string& value);

// --- Buttons ----------------------------------------------------------------------------------
struct ButtonLook {
  bool enabled = true;
  std::string reason{};   // why it is disabled, shown when pointed at
  std::string tooltip{};  // what it is good for
  bool accent = false;    // the next useful thing to do
  double width = -1.0;    // -1: all that is left; 0: as the label needs; else at 100 %
};
bool button(Frame& frame, const std::string& label, const ButtonLook& look = {});
// One of several; `chosen` is drawn filled.
bool choice(Frame& frame, const std::string& label, bool chosen, const ButtonLook& look = {});
// A quiet button that looks like a link.
bool link(Frame& frame, const std::string& label, const std::string& tooltip = "");
// Returns true when it was ticked or unticked; `value` is then changed.
bool check(Frame& frame, const std::string& label, bool& value, const std::string& tooltip = "");

// --- Fields -----------------------------------------------------------------------------------
struct FieldLook {
  std::string unit{};  // shown after the field
  std::string tooltip{};
  int decimals = 2;     // at most; trailing zeros are left out
  std::string hint{};   // shown while empty
  double width = -1.0;  // as ButtonLook
};
// Returns the number once it has been typed and left or Enter pressed; an empty inner optional
// where the field was emptied. Texts that are no number leave the value and say so in the status.
// A decimal comma is read as a point; fractions such as 3 1/2 are understood.
std::optional<std::optional<double>> number(Frame& frame, const std::string& label,
                                            std::optional<double> value,
                                            const FieldLook& look = {});
// Returns the text once it has been typed and left or Enter pressed.
std::optional<std::string> text(Frame& frame, const std::string& label, const std::string& value,
                                const FieldLook& look = {});
// A text that follows every letter. Returns true where Enter was pressed.
bool live_text(Frame& frame, const std::string& label, std::string& value,
               const FieldLook& look = {});
// A slider; returns true while it is moved, `value` is then changed. A double click sets `normal`.
bool slider(Frame& frame, const std::string& label, double& value, double least, double most,
            double normal, const std::string& shown);
// One of several words in a list that opens; returns the index chosen.
std::optional<std::size_t> list(Frame& frame, const std::string& label,
                                const std::vector<std::string>& entries, std::size_t chosen,
                                const std::string& tooltip = "", double width = -1.0);

// --- Arrangement ------------------------------------------------------------------------------
// Returns whether the fold is open; click to change. Closed at first unless `open_at_first`.
bool fold(Frame& frame, const std::string& label, bool open_at_first = false);
// A bar for work that takes longer than half a second, with its words if any; nothing before. It
// fills where it is known how much is done, else a piece of it runs to and fro. Where
// `stop` says what stopping does, a button to do so stands below it; returns whether it was
// pressed.
bool busy(Frame& frame, const std::optional<Busy>& busy, const std::string& stop = "");

// Says something in the line at the foot of the photograph.
void say(Frame& frame, const std::string& text);
void complain(Frame& frame, const std::string& what, const std::string& next);

// Shows the tooltip while the last item is pointed at, disabled or not.
void tip(Frame& frame, const std::string& text);
// Tells the description of the last item.
void describe_last(Frame& frame, const std::string& label, bool enabled = true);
// Draws a wavy line from left to right.
void wave(Frame& frame, ImDrawList& list, ImVec2 from, float width, ImU32 colour);

}  // namespace potshadow::kit

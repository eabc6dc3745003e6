// SPDX-License-Identifier: MIT
// The figures as the window shows them: sizes, proportions, and what limits them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "core/text.h"
#include "project/measure.h"

namespace potshadow {

// One size. Figures carry no unit and no "±".
struct FigureRow {
  SizeName name = SizeName::kHeight;
  std::string label;       // "Height"
  std::string value;       // "235.1"
  std::string plus_minus;  // "2.8": half of the 95 % interval
  std::string unit;        // "mm", "cm", "in", "ml"
  std::string interval;    // "232.3 to 237.9"
  std::string sixteenths;  // "9¼"; only where inches are asked for, and for lengths
  // The size to make it of wet clay; empty without a clay's shrinkage.
  std::string wet_value;
  std::string wet_plus_minus;
  std::string wet_sixteenths;
  bool guessed = false;   // the scale is nothing but a guess
  bool leading = false;   // height, maximum, neck, rim: set large
  bool doubtful = false;  // the interval is too wide to build on
  std::string doubt;      // why, one sentence; empty where not doubtful
  std::string tooltip;    // what the size is and why a potter needs it
};

// Returns one row a size that the vessel has, in the order of SizeName; none where nothing gives
// the scale. Capacity is in millilitres whatever the unit.
std::vector<FigureRow> figure_rows(const Measurement& measurement, LengthUnit unit);

// Returns the length in inches to the nearest sixteenth as on a ruler: "9¼", "7 3/16", "⅝", "0".
std::string inch_fraction_text(Mm length);

// Returns what a size is and why a potter needs it.
std::string_view size_lesson(SizeName name);

struct ProportionRow {
  std::string words;  // "Rim to maximum diameter"
  std::string value;
  std::string plus_minus;
  std::string meaning;  // "The rim is two thirds as wide as the belly."
};
std::vector<ProportionRow> proportion_rows(const Answer& answer);

struct LimitRow {
  SizeName name = SizeName::kHeight;
  std::string label;   // "Height"
  std::string causes;  // "the reference's place 43 %, the marks 36 %"
  std::string advice;  // what would help, one or two sentences
};
// Returns what limits each size most, the largest share first, in the order of the sizes.
std::vector<LimitRow> limit_rows(const Answer& answer);
// One source of a size's doubt.
struct BudgetPart {
  std::optional<DoubtSource> source;  // none: all small ones together
  std::string words;                  // "the marks", "all else"
  double share = 0.0;                 // of the size's variance
  std::string percent;                // "36 %"
};
// Returns the sources that matter, the largest first, and all else last; the shares add up to 1.
// Empty for a size without doubt.
std::vector<BudgetPart> budget_parts(const MeasuredSize& size);

// Returns what would help most and the interval it would give, in lengths of `unit`; where the
// answer has no such advice, the advice for the size known worst of those that count most (the
// leading and the base), in relation to its value: "What limits it most ..." Empty for an answer
// without sizes.
std::string advice_words(const Answer& answer, LengthUnit unit = LengthUnit::kMm);

// Returns what the figures are worth where their scale is a guess, or why there are none without a
// scale; empty where the scale is known.
std::string scale_words(ScaleSource scale);
// Returns how round the vessel is found to be: "It is 2.1 ± 0.8 % out of round: ..."
std::string out_of_round_words(const OutOfRound& found);
// Returns whether left and right differ, and by how much. Lengths in `unit`, or in percent of the
// height where there is no scale.
std::string uneven_words(const Uneven& found, LengthUnit unit, ScaleSource scale);
// Returns what a potter can do about the share that a source has in a size's doubt.
std::string_view advice_for(SizeName name, DoubtSource source);

// Returns why the figures are greyed: they are from before the last change, and are worked out anew
// (no problem) or cannot be (the problem's words).
std::string stale_words(const Problem* problem);

// Returns how the picture was taken: "The photograph was taken from 903 mm away, 16° above ..."
std::string camera_sentence(const CameraAnswer& camera, LengthUnit unit);

// Returns the figures as text to be pasted (answer_text), its notes in the words of the window.
// `file` names the project.
std::string figures_text(const Measurement& measurement, const std::string& file, LengthUnit unit);
// Returns the figures as a table of comma-separated values (report_csv). `file` names the project.
std::string figures_csv(const Measurement& measurement, const std::string& file);

}  // namespace potshadow

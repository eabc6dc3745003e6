// SPDX-License-Identifier: MIT
// The book of clays as the window shows it: its list, and one clay's bars, mix and figures.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/body_figures.h"
#include "core/result.h"
#include "core/text.h"
#include "project/clay_book.h"
#include "project/project_clay.h"

namespace potshadow {

// One clay of the book.
struct ClayLine {
  std::string record;
  std::string name;
  std::string shrinkage;  // "12.1 ± 0.8 %"; "–" where the bars do not say
  std::string source;     // "5 bars", "estimated from the mix", "a handbook's range"
  bool estimate = false;  // not of bars or a maker's figure
};
std::vector<ClayLine> clay_lines(const ClayBook& book);

// One test bar; what was not measured is empty. Percentages are of the length before.
struct BarLine {
  std::string wet;  // lengths in the unit that was asked for
  std::string leather;
  std::string dry;
  std::string fired;
  std::string heat;  // "950 °C", "cone 06"
  std::string drying;
  std::string firing;
  std::string total;
  std::string remark;  // date, way, note
  bool used = true;
};
std::vector<BarLine> bar_lines(const ClayBody& body, LengthUnit unit);

// One part of a mix.
struct MixLine {
  std::string name;
  std::string kind;     // "clay", "temper"
  std::string parts;    // by dry weight, as it was typed
  std::string percent;  // "70.0 %"
};
std::vector<MixLine> mix_lines(const ClayBody& body);

// One figure of a clay.
struct ClayFigureLine {
  std::string label;
  std::string value;  // "12.1 ± 0.8 %"
  std::string basis;  // "of the wet length"
  std::string source;
  bool estimate = false;
};
// Returns the shrinkages, then water, losses and densities.
std::vector<ClayFigureLine> clay_figure_lines(const BodyFigures& figures);

// Returns what to do with a clay of which nothing is measured yet, or how well it is known: one or
// two sentences.
std::string clay_standing(const ClayBody& body, const Result<BodyFigures>& figures);

// Returns the handbook's ranges with their sources, one sentence each.
std::vector<std::string> handbook_sentences();

// Returns what was taken in: "Took 2 clays into the book: buff-mix, weir." and, where names were
// taken, how they are called now.
std::string taken_in_words(const JoinedBook& joined);

// Returns a problem of a project's clay, with what to do about it in the window.
Problem clay_problem_words(const Problem& problem);

// Returns "Buff mix shrinks by 12.1 ± 0.8 % of its wet length (5 bars)."
std::string project_clay_sentence(const ProjectClayFigures& clay);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Clays as a potter reads them: the book's list, one body with its bars and figures, the handbook.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "clay/body_figures.h"
#include "core/result.h"
#include "project/clay_book.h"

namespace potshadow {

// Returns a line for each body of the book; what to do first where there is none.
std::string clay_list_text(const ClayBook& book);

// Returns one body: mix, bars, every figure with its interval, its basis and its source, notes and
// cautions. Figures that cannot be had are named in words.
std::string clay_text(const ClayBody& body, const Result<BodyFigures>& figures);

// Returns the published figures that stand in where there are no bars, with their sources.
std::string handbook_text();

// Returns "5 bars", "a handbook's range" and so on; as a key "bars", "handbook".
std::string source_words(FigureSource source, std::size_t bars);
std::string_view source_key(FigureSource source);

// Returns where a shrinkage comes from, with the pots that weigh in: "5 bars and 1 pot".
std::string evidence_words(const ClayShrinkage& found);

// Returns "12.0 ± 0.8 %", the ± being half the 95 % interval.
std::string percent_words(const LinearShrinkage& shrinkage);
// Returns the length it is counted on: "of the wet length".
std::string basis_words(Stage from);

// Returns what the shrinkages are and where they come from, in one sentence.
std::string clay_sentence(const BodyFigures& figures);

// Returns what to take care of when mixing and firing clay, one sentence each.
std::vector<std::string_view> clay_cautions();

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A measurement as a potter reads it: plain text for a terminal or to be copied.
#pragma once

#include <string>

#include "core/text.h"
#include "project/measure.h"

namespace potshadow {

// Returns the readable text of one project: sizes, proportions, what limits each size and what
// would help most, fit, cameras, notes. Without a scale there are no sizes, and the text says what
// to do. At most 100 columns unless names are long; no colours. `file` is the project's file as the
// user named it.
std::string answer_text(const Measurement& measurement, const std::string& file, LengthUnit unit);

// Returns what the proportions make a vessel: "a jar with a drawn-in mouth".
std::string kind_words(const Profile& profile);

// Returns that as a sentence: "By its proportions the vessel is a jar with a
// drawn-in mouth."
std::string shape_words(const Profile& profile);

// Returns what was guessed where nothing but guesses says how big the vessel is, else nothing:
// "Scale guessed: height 260 ± 20 mm."
std::string guessed_scale_words(const Measurement& measurement, LengthUnit unit);

// Returns a size's name inside a sentence: "the height", "the capacity to the brim".
std::string size_in_sentence(SizeName name);

}  // namespace potshadow

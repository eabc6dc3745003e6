// SPDX-License-Identifier: MIT
// A measurement as a potter reads it: plain text for a terminal or to be copied.
#pragma once

#include <string>

#include "core/text.h"
#include "project/measure.h"

namespace potshadow {

// Returns the readable text of one project: sizes, proportions, camera, fit, what limits each size,
// notes. At most 100 columns unless names are long; no colours. `file` is the project's file as the
// user named it.
std::string answer_text(const Measurement& measurement, const std::string& file, LengthUnit unit);

// Returns what the proportions make the vessel: "By its proportions the vessel is a jar with a
// drawn-in mouth."
std::string shape_words(const Profile& profile);

}  // namespace potshadow

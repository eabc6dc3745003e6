// SPDX-License-Identifier: MIT
// An answer's notes as the window says them.
#pragma once

#include <vector>

#include "core/result.h"
#include "project/measure.h"

// On the command line a note on an unfinished reference names the keys of the project file; here it
// names what the Reference step calls its fields.
namespace potshadow {

// Returns the answer's notes in their order, those on references that were left out in the words of
// the Reference step: "Reference 2 is not complete, so it is left out. Type its 'Height', ..."
std::vector<Note> window_notes(const Measurement& measurement);

// Returns the measurement with those notes in place of its own.
Measurement with_window_notes(Measurement measurement);

}  // namespace potshadow

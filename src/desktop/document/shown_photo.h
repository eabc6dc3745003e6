// SPDX-License-Identifier: MIT
// Which photograph of a document is shown, and where a measurement speaks of it.
#pragma once

#include <cstddef>

#include "desktop/document/document.h"
#include "project/measure.h"

// Which photograph is shown is neither saved nor a step of the history: it follows what is done.
namespace potshadow {

// Returns the photograph to show once `before` has become `after`, when `shown` was shown: one that
// came in, else one that changed; the same one where it changed itself, or nothing did. Where one
// was taken out, the next one takes its place. 0 where there are none.
std::size_t photo_after(const Document& before, const Document& after, std::size_t shown);

// Returns what the answer says of a photograph of `document`, or null where that was not measured.
// The measurement may be of an earlier document with other photographs. The pointer is into it.
const PhotoAnswer* answer_of_photo(const Measurement& measurement, const Document& document,
                                   std::size_t photo);

// Returns the mark of the document that the answer of this measurement means.
MarkId mark_in(const Measurement& measurement, const MarkPlace& place);

}  // namespace potshadow

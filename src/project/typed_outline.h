// SPDX-License-Identifier: MIT
// A drawn outline as a profile with its uncertainty, and the sizes that are read off it.
#pragma once

#include <string>
#include <vector>

#include "compare/form.h"
#include "core/result.h"
#include "estimate/answer.h"
#include "project/typed_pot.h"

// The model of what is not sure about a drawing is in typed_vessel.h.
namespace potshadow {

// Neighbouring places that lie far apart along the outline.
struct OutlineGap {
  double low_mm = 0.0;  // heights of the two
  double high_mm = 0.0;
};

struct TypedOutline {
  Form form;
  std::vector<MeasuredSize> sizes;  // all that it has
  std::string kind;                 // "a bowl with an open mouth"
  std::vector<OutlineGap> gaps;
};

// Returns the outline that was typed at a stage; `file` is named in what is wrong. Fails with
// kTooFewMarks where it has fewer than four places, and as Profile::through. Requires a place.
Result<TypedOutline> typed_outline(const TypedStage& typed, const std::string& file);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// One estimate from beginning to end, without asking whether references agree.
#pragma once

#include <string>
#include <vector>

#include "core/result.h"
#include "estimate/answer.h"
#include "estimate/input.h"
#include "estimate/solved.h"

// Internal to `estimate`.
namespace potshadow::internal {

// Detail of the problem that the sizes' intervals have no useful bounds.
inline constexpr const char* kScaleWithoutBounds = "interval without bounds";

// The answer, with what it was read from.
struct Found {
  Solved solved;
  Answer answer;
};

// Returns the answer; `input` must outlive what is returned. Requires that something
// is of known size. Fails as estimate() does.
Result<Found> whole(const EstimateInput& input);

// Returns the answer that a solution gives; `earlier` are the notes of the checks. Advice takes
// some milliseconds more.
Result<Answer> answered(const EstimateInput& input, const std::vector<Note>& earlier,
                        const Solved& solved, bool advise);

// Returns what the sizes hang on.
ScaleSource scale_of(const EstimateInput& input);

// Returns the input with a scale that is none of its own, for proportions alone.
EstimateInput with_any_scale(EstimateInput input);

// Takes out of the answer what hangs on that scale; the profile then is in percent of the height,
// or of the maximum diameter where the height is not seen.
void leave_scale_open(Answer& answer);

// Returns a length as it stands in a sentence: whole millimetres, tenths where a tenth counts.
std::string mm_text(double mm);

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// Parts of the bench check: how far intervals must widen to hold together, and readings that cannot
// be; for this part only.
#pragma once

#include <optional>
#include <vector>

#include "clay/bench_check.h"

namespace potshadow::internal {

// Returns the factor, 1 or more, by which the sizes' intervals must widen so that all hold at once
// with 95 %: the doubts of photograph, clay and bench are drawn, the clay's in common, and with
// Student's tail where few bars tell it.
double widening_of(const BenchRequest& request, const std::vector<BenchSize>& sizes);

// Returns a question where two sizes fit each other's targets and not their own, and where one is
// so far from its target that it was likely typed in another unit, or is a girth or a radius.
std::optional<Problem> unlikely_reading(const BenchRequest& request,
                                        const std::vector<BenchSize>& sizes);

// Returns a doubtful note where another stage fits better.
std::vector<Note> bench_notes(const BenchRequest& request, const std::vector<BenchSize>& sizes);

}  // namespace potshadow::internal

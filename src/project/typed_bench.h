// SPDX-License-Identifier: MIT
// A size of the pot on the bench as it is typed.
#pragma once

#include <string_view>

#include "core/result.h"
#include "core/text.h"
#include "project/bench_report.h"

namespace potshadow {

// Returns the reading in a text such as "max=240", "height=262±1", "rim=6 3/8" or "girth:max=752":
// a size, "=", a length in `unit` with its tolerance after "±" or "+-", if that is known. Sizes are
// "height", "max", "max-height" (how high the widest place is), "neck", "neck-height", "rim",
// "base" and "capacity" (in millilitres whatever the unit), or their keys in files. "caliper:",
// "tape:" or "girth:" before it says what it was measured with: a caliper where a diameter does not
// say, a tape where a height does not. Fails with kBadValue.
Result<BenchSizeReading> typed_bench_size(std::string_view text, LengthUnit unit);

}  // namespace potshadow

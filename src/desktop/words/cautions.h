// SPDX-License-Identifier: MIT
// What to take care of, step by step.
#pragma once

#include <string_view>
#include <vector>

#include "desktop/words/steps.h"

namespace potshadow {

// Returns the cautions that belong to a step, one or two sentences each; none for some steps. Where
// there are any, the last is that local codes and licensed practice come first.
std::vector<std::string_view> cautions_for(Step step);

}  // namespace potshadow

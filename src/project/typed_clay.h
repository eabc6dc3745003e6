// SPDX-License-Identifier: MIT
// A mix as it is typed on one line.
#pragma once

#include <string_view>
#include <vector>

#include "clay/clay_body.h"
#include "core/result.h"

namespace potshadow {

// Returns the parts of a mix such as "river=70, temper:Grog=30": names and dry weights, "temper:"
// before what does not shrink. A name that is a record of `book` stands for that body. Fails with
// kBadValue.
Result<std::vector<MixPart>> typed_mix(std::string_view text, const std::vector<ClayBody>& book);

// Returns `bar` with whatever `newer` holds in place of what it had.
TestBar with_newer(TestBar bar, const TestBar& newer);

}  // namespace potshadow

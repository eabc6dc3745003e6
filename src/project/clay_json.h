// SPDX-License-Identifier: MIT
// One clay body as JSON, read and written; for this part only.
#pragma once

#include <string>

#include "clay/clay_body.h"
#include "project/json_text.h"

namespace potshadow {

// Returns the body in an object of a book. Fails with kBadFormat or kBadValue, naming the place:
// "In clay 2 of 'clays.json', bar 3, 'wet_mm' should be a number." `place` is "clay 2 of
// 'clays.json'". What the body says is not checked beyond its types: see check_body.
Result<ClayBody> clay_from_json(const Json& object, const std::string& place);

// Returns the object of a body; what is absent or usual is left out, but for its record and name.
Json clay_to_json(const ClayBody& body);

}  // namespace potshadow

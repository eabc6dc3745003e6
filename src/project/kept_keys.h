// SPDX-License-Identifier: MIT
// Keys of a JSON object that this version does not know, kept as text; for this part only.
#pragma once

#include <set>
#include <string>

#include "project/json_text.h"

namespace potshadow {

// Returns what is in `object` under other keys than `known`, as text; empty if nothing is.
std::string others_in(const Json& object, const std::set<std::string>& known);

// Adds what others_in gave, but for keys that `object` has by now.
void add_kept(const std::string& kept, Json& object);

}  // namespace potshadow

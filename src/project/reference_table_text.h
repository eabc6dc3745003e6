// SPDX-License-Identifier: MIT
// The text of assets/references.json, for this part only.
#pragma once

#include <string_view>

namespace potshadow {

// Returns the text as it was when the program was built.
std::string_view reference_table_text();

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The keys and what they do, for the help overlay.
#pragma once

#include <string_view>
#include <vector>

namespace potshadow {

struct KeyRow {
  std::string_view keys;  // "Ctrl+Shift+Z"; alternatives with "or"
  std::string_view does;  // "Redo"
};
struct KeyGroup {
  std::string_view title;
  std::vector<KeyRow> rows;
};

// Returns every key by what it is for.
std::vector<KeyGroup> key_groups();

}  // namespace potshadow

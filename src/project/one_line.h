// SPDX-License-Identifier: MIT
// Names out of files, made safe to print.
#pragma once

#include <string>
#include <string_view>

namespace potshadow {

// Returns `utf8` without control characters (each becomes '?'), so that a name in a file cannot
// steer a terminal. Newlines and tabs count as control characters.
std::string on_one_line(std::string_view utf8);

}  // namespace potshadow

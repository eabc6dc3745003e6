// SPDX-License-Identifier: MIT
// Fields of comma-separated values; for this part only.
#pragma once

#include <string>

namespace potshadow::internal {

// Returns a field quoted where it must be (RFC 4180, section 2, rules 5 to 7).
std::string csv_field(const std::string& text);

// Returns the shortest text that reads back as the same double; empty where not finite.
std::string csv_number(double value);

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
#include "project/csv_text.h"

#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

#include "core/check.h"

namespace potshadow::internal {

std::string csv_field(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

std::string csv_number(double value) {
  if (!std::isfinite(value)) return "";
  std::array<char, 32> buffer{};
  const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  POTSHADOW_CHECK(error == std::errc{});
  return {buffer.data(), end};
}

}  // namespace potshadow::internal

// SPDX-License-Identifier: MIT
// Strict reading and readable writing of JSON, for this part only.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "core/result.h"
#include "project/project.h"

// Strict means: UTF-8, no key twice in one object, no number too large for a double, nesting and
// number of values bounded. Objects keep the order of their keys.
// Source: RFC 8259.
namespace potshadow {

using Json = nlohmann::ordered_json;

struct KeptObject::Content {
  Json object;
};

inline constexpr int kMostJsonDepth = 64;                  // ours use 6; deeper is no project
inline constexpr std::size_t kMostJsonValues = 4'000'000;  // about 400 MB in memory at worst

// What a problem calls the file that a text comes from.
struct JsonFile {
  std::string_view name;
  std::string_view kind = "project file";
};

// Returns the value in `text`. Fails with kBadFormat, naming line and column (both from 1, columns
// in characters), or kFileTooLarge.
Result<Json> parse_json(std::string_view text, const JsonFile& file);

// Returns `value` as text with a newline at the end: indented by two, short lists and objects of
// plain values on one line. Bytes that are not UTF-8 become U+FFFD.
std::string json_text(const Json& value);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "project/kept_keys.h"

namespace potshadow {

std::string others_in(const Json& object, const std::set<std::string>& known) {
  Json rest = Json::object();
  for (const auto& item : object.items()) {
    if (!known.contains(item.key())) rest[item.key()] = item.value();
  }
  return rest.empty() ? std::string() : json_text(rest);
}

void add_kept(const std::string& kept, Json& object) {
  if (kept.empty()) return;
  const Result<Json> read = parse_json(kept, {"kept keys"});
  if (!read || !read->is_object()) return;
  for (const auto& item : read->items()) {
    if (!object.contains(item.key())) object[item.key()] = item.value();
  }
}

}  // namespace potshadow

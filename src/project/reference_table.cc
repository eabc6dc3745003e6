// SPDX-License-Identifier: MIT
#include "project/reference_table.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "project/json_text.h"
#include "project/reference_table_text.h"

namespace potshadow {
namespace {

constexpr int kTableVersion = 1;
constexpr std::array<std::string_view, 5> kGroups{"Cards", "Paper", "Coins", "Tiles and bricks",
                                                  "Photo scales"};
// What stands beside a pot is neither smaller nor larger; with a greater tolerance it is no help.
constexpr double kSmallestMm = 5.0;
constexpr double kLargestMm = 2000.0;
constexpr double kLargestTolerance = 0.125;  // of the smaller side: a brick's

constexpr const char* kMend = "Mend the table.";

// Reads one entry; the first thing wrong is kept.
class Entry {
 public:
  Entry(const Json& json, std::size_t index, std::string_view file_name)
      : json_(json), place_("In the table '" + std::string(file_name) + "', entry ") {
    place_ += std::to_string(index + 1);
    if (!json.is_object()) {
      wrong(Code::kBadFormat, "is no group of keys in braces");
      return;
    }
    const auto key = json.find("key");
    if (key != json.end() && key->is_string()) place_ += " ('" + key->get<std::string>() + "')";
  }

  std::string text(const char* key, bool needed = true) {
    const Json* value = find(key);
    if (value == nullptr) {
      if (needed) wrong(Code::kBadFormat, std::string("has no '") + key + "'");
      return "";
    }
    if (!value->is_string() || value->get<std::string>().empty()) {
      wrong(Code::kBadFormat, std::string("has a '") + key + "' that is no text");
      return "";
    }
    return value->get<std::string>();
  }

  double number(const char* key, double least, double most) {
    const Json* value = find(key);
    if (value == nullptr || !value->is_number()) {
      wrong(Code::kBadFormat, std::string("has no number '") + key + "'");
      return 0.0;
    }
    const double number = value->get<double>();
    if (!(number >= least && number <= most)) {
      wrong(Code::kBadValue, std::string("has a '") + key + "' that cannot be");
    }
    return number;
  }

  void wrong(Code code, const std::string& what) {
    if (!problem_) problem_ = Problem{code, place_ + " " + what + ".", kMend, ""};
  }

  // Requires that all keys have been asked for.
  void refuse_others() {
    if (!json_.is_object()) return;
    for (const auto& item : json_.items()) {
      if (asked_.contains(item.key())) continue;
      wrong(Code::kBadFormat, "has the key '" + item.key() + "', which is not known");
    }
  }

  const std::optional<Problem>& problem() const { return problem_; }

 private:
  const Json* find(const char* key) {
    asked_.insert(key);
    if (!json_.is_object()) return nullptr;
    const auto found = json_.find(key);
    return found == json_.end() ? nullptr : &*found;
  }

  const Json& json_;
  std::string place_;
  std::set<std::string> asked_;
  std::optional<Problem> problem_;
};

bool is_key(const std::string& text) {
  return std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  });
}

CommonObject read_object(Entry& from) {
  CommonObject object;
  object.key = from.text("key");
  if (!is_key(object.key)) {
    from.wrong(Code::kBadFormat, "has a 'key' with more than small letters, digits and hyphens");
  }
  object.name = from.text("name");
  object.group = from.text("group");
  if (std::find(kGroups.begin(), kGroups.end(), object.group) == kGroups.end()) {
    from.wrong(Code::kBadFormat, "is in the group '" + object.group + "', which is not known");
  }
  const std::string shape = from.text("shape");
  double smaller = 0.0;
  if (shape == "disc") {
    object.shape = ReferenceShape::kDisc;
    object.width_mm = from.number("diameter_mm", kSmallestMm, kLargestMm);
    smaller = object.width_mm;
  } else if (shape == "rectangle") {
    object.shape = ReferenceShape::kRectangle;
    object.width_mm = from.number("width_mm", kSmallestMm, kLargestMm);
    object.height_mm = from.number("height_mm", kSmallestMm, kLargestMm);
    smaller = std::min(object.width_mm, object.height_mm);
  } else {
    from.wrong(Code::kBadFormat, "has a 'shape' that is neither \"rectangle\" nor \"disc\"");
  }
  object.tolerance_mm = from.number("tolerance_mm", 0.0, kLargestTolerance * smaller);
  if (!(object.tolerance_mm > 0.0)) {
    from.wrong(Code::kBadValue, "has a 'tolerance_mm' that cannot be");
  }
  object.source = from.text("source");
  object.remark = from.text("remark", false);
  from.refuse_others();
  return object;
}

}  // namespace

Result<std::vector<CommonObject>> parse_reference_table(std::string_view text,
                                                        std::string_view file_name) {
  const Result<Json> json = parse_json(text, {file_name, "table"});
  if (!json) return json.problem();
  const auto no_table = [&](const std::string& why) {
    return Problem{Code::kBadFormat, "The table '" + std::string(file_name) + "' " + why + ".",
                   kMend, ""};
  };
  if (!json->is_object() || !json->contains("potshadow_references") ||
      json->at("potshadow_references") != kTableVersion) {
    return no_table("does not say \"potshadow_references\": 1");
  }
  if (!json->contains("objects") || !json->at("objects").is_array()) {
    return no_table("has no list 'objects'");
  }
  std::vector<CommonObject> objects;
  std::set<std::string> keys;
  for (const Json& item : json->at("objects")) {
    Entry entry(item, objects.size(), file_name);
    objects.push_back(read_object(entry));
    if (!keys.insert(objects.back().key).second) {
      entry.wrong(Code::kBadFormat, "has the key of an entry before it");
    }
    if (entry.problem()) return *entry.problem();
  }
  return objects;
}

const std::vector<CommonObject>& common_objects() {
  static const std::vector<CommonObject> table =
      parse_reference_table(reference_table_text(), "references.json").value();
  return table;
}

const CommonObject* find_object(const std::vector<CommonObject>& table, std::string_view key) {
  const auto found = std::find_if(table.begin(), table.end(),
                                  [&](const auto& object) { return object.key == key; });
  return found == table.end() ? nullptr : &*found;
}

double size_sd_mm(const CommonObject& object) { return object.tolerance_mm / std::sqrt(3.0); }

}  // namespace potshadow

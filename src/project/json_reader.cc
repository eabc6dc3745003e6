// SPDX-License-Identifier: MIT
#include "project/json_reader.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

namespace potshadow::internal {
namespace {

std::string kind_of_value(const Json& value) {
  if (value.is_string()) return "text";
  if (value.is_boolean()) return "true or false";
  if (value.is_number()) return "a number";
  if (value.is_array()) return "a list";
  if (value.is_object()) return "a group of keys";
  return "empty";
}

}  // namespace

KeptObject Reader::kept() const {
  return KeptObject(std::make_shared<const KeptObject::Content>(KeptObject::Content{object_}));
}

std::optional<double> Reader::number(const char* key) const {
  const Json* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (!value->is_number()) {
    wrong_type(key, "a number", *value);
    return std::nullopt;
  }
  return value->get<double>();
}

std::optional<std::int64_t> Reader::whole_number(const char* key) const {
  const Json* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (!value->is_number()) {
    wrong_type(key, "a whole number", *value);
    return std::nullopt;
  }
  const double number = value->get<double>();
  if (!is_whole(number)) {
    complain("'" + std::string(key) + "' should be a whole number", kMend);
    return std::nullopt;
  }
  return static_cast<std::int64_t>(number);
}

int Reader::whole_number(const char* key, int otherwise, int least, int most) const {
  const std::int64_t number = whole_number(key).value_or(otherwise);
  if (number >= least && number <= most) return static_cast<int>(number);
  complain("'" + std::string(key) + "' should be between " + std::to_string(least) + " and " +
               std::to_string(most),
           kMend);
  return otherwise;
}

bool Reader::flag(const char* key, bool otherwise) const {
  const Json* value = find(key);
  if (value == nullptr) return otherwise;
  if (!value->is_boolean()) {
    wrong_type(key, "true or false", *value);
    return otherwise;
  }
  return value->get<bool>();
}

std::string Reader::text(const char* key) const {
  const Json* value = find(key);
  if (value == nullptr) return "";
  if (!value->is_string()) {
    wrong_type(key, "text", *value);
    return "";
  }
  return value->get<std::string>();
}

std::vector<PhotoPoint> Reader::points(const char* key, std::size_t most) const {
  std::vector<PhotoPoint> points;
  const Json* list = find_list(key, "a list of [x, y] pairs", most);
  if (list == nullptr) return points;
  points.reserve(list->size());
  for (const Json& pair : *list) {
    if (!pair.is_array() || pair.size() != 2 || !pair[0].is_number() || !pair[1].is_number()) {
      trouble_.add(Code::kBadFormat, place_,
                   "point " + std::to_string(points.size() + 1) + " of '" + key +
                       "' should be a pair of numbers [x, y]",
                   kMend);
      return {};
    }
    points.push_back({pair[0].get<double>(), pair[1].get<double>()});
  }
  return points;
}

std::vector<TracedPoint> Reader::traced_points(const char* key, std::size_t most) const {
  std::vector<TracedPoint> points;
  const Json* list = find_list(key, "a list of [x, y, uncertainty] groups", most);
  if (list == nullptr) return points;
  const auto is_number = [](const Json& value) { return value.is_number(); };
  for (const Json& group : *list) {
    if (!group.is_array() || group.size() != 3 ||
        !std::all_of(group.begin(), group.end(), is_number)) {
      complain(counted("point", points.size()) + " of '" + key +
                   "' should be three numbers [x, y, uncertainty]",
               kMend);
      return {};
    }
    points.push_back({{group[0].get<double>(), group[1].get<double>()}, group[2].get<double>()});
  }
  return points;
}

std::optional<std::array<PhotoPoint, 2>> Reader::two_points(const char* key) const {
  const std::vector<PhotoPoint> found = points(key, 2);
  if (found.empty()) return std::nullopt;
  if (found.size() == 2) return std::array{found[0], found[1]};
  complain("'" + std::string(key) + "' should hold two points", kMend);
  return std::nullopt;
}

std::vector<ProjectReference::Crossing> Reader::crossings(const char* key) const {
  std::vector<ProjectReference::Crossing> crossings;
  const Json* list = find_list(key, "a list of [x, y, column, row] groups", kMostMarks);
  if (list == nullptr) return crossings;
  const auto counts = [](const Json& value) {
    return value.is_number() && is_whole(value.get<double>()) &&
           std::abs(value.get<double>()) <= kMostCells;
  };
  for (const Json& group : *list) {
    if (!group.is_array() || group.size() != 4 || !group[0].is_number() || !group[1].is_number() ||
        !counts(group[2]) || !counts(group[3])) {
      complain(counted("point", crossings.size()) + " of '" + key +
                   "' should be [x, y, column, row], the last two whole numbers up to " +
                   std::to_string(kMostCells),
               kMend);
      return {};
    }
    crossings.push_back({{group[0].get<double>(), group[1].get<double>()},
                         static_cast<int>(group[2].get<double>()),
                         static_cast<int>(group[3].get<double>())});
  }
  return crossings;
}

std::vector<Reader> Reader::objects(const char* key, std::string_view word,
                                    std::size_t most) const {
  std::vector<Reader> readers;
  const Json* list = find_list(key, "a list", most);
  if (list == nullptr) return readers;
  for (const Json& item : *list) {
    const std::string name = counted(word, readers.size());
    const std::string place = place_.empty() ? name : place_ + ", " + name;
    if (!item.is_object()) {
      trouble_.add(Code::kBadFormat, place_,
                   name + " should be a group of keys in braces, but it is " + kind_of_value(item),
                   kMend);
      return {};
    }
    readers.emplace_back(item, place, trouble_);
  }
  return readers;
}

std::optional<Reader> Reader::object(const char* key) const {
  const Json* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (!value->is_object()) {
    wrong_type(key, "a group of keys in braces", *value);
    return std::nullopt;
  }
  const std::string word = std::string("'") + key + "'";
  return Reader(*value, place_.empty() ? word : place_ + ", " + word, trouble_);
}

void Reader::complain(const std::string& what, const std::string& next) const {
  trouble_.add(Code::kBadFormat, place_, what, next);
}

bool Reader::is_whole(double number) {
  constexpr double kLargestExact = 9007199254740992.0;  // 2^53
  return std::floor(number) == number && std::abs(number) <= kLargestExact;
}

const Json* Reader::find(const char* key) const {
  const auto found = object_.find(key);
  return found == object_.end() || found->is_null() ? nullptr : &*found;
}

const Json* Reader::find_list(const char* key, const char* expected, std::size_t most) const {
  const Json* value = find(key);
  if (value == nullptr) return nullptr;
  if (!value->is_array()) {
    wrong_type(key, expected, *value);
    return nullptr;
  }
  if (value->size() > most) {
    trouble_.add(Code::kBadValue, place_,
                 "'" + std::string(key) + "' holds " + std::to_string(value->size()) +
                     " entries, and at most " + std::to_string(most) + " are read",
                 "Take some out, or check that it is the right file.");
    return nullptr;
  }
  return value;
}

void Reader::wrong_type(const char* key, const char* expected, const Json& value) const {
  complain(
      "'" + std::string(key) + "' should be " + expected + ", but it is " + kind_of_value(value),
      kMend);
}

}  // namespace potshadow::internal

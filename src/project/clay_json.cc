// SPDX-License-Identifier: MIT
#include "project/clay_json.h"

#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

#include "project/kept_keys.h"

namespace potshadow {
namespace {

// A word in the file and what it stands for.
template <class Value>
using Word = std::pair<std::string_view, Value>;

constexpr std::array<Word<BarWay>, 3> kWays{{{"either", BarWay::kEither},
                                             {"vertical", BarWay::kVertical},
                                             {"horizontal", BarWay::kHorizontal}}};
constexpr std::array<Word<MixKind>, 2> kKinds{
    {{"clay", MixKind::kClay}, {"temper", MixKind::kTemper}}};
const std::array<Word<Stage>, 4> stages{{{stage_key(Stage::kWet), Stage::kWet},
                                         {stage_key(Stage::kLeatherHard), Stage::kLeatherHard},
                                         {stage_key(Stage::kBoneDry), Stage::kBoneDry},
                                         {stage_key(Stage::kFired), Stage::kFired}}};

template <class Words, class Value>
std::string word_of(const Words& words, Value value) {
  for (const auto& [word, meaning] : words) {
    if (meaning == value) return std::string(word);
  }
  return "";
}

// Takes keys out of one object and remembers the first that cannot be used.
class Reader {
 public:
  Reader(const Json& object, std::string place) : object_(object), place_(std::move(place)) {
    if (!object.is_object()) wrong("", "should be an object");
  }

  std::optional<double> number(const char* key) {
    const Json* const found = find(key);
    if (found == nullptr) return std::nullopt;
    if (!found->is_number()) {
      wrong(key, "should be a number");
      return std::nullopt;
    }
    return found->get<double>();
  }

  std::string text(const char* key) {
    const Json* const found = find(key);
    if (found == nullptr) return "";
    if (!found->is_string()) {
      wrong(key, "should be text");
      return "";
    }
    return found->get<std::string>();
  }

  bool flag(const char* key, bool otherwise) {
    const Json* const found = find(key);
    if (found == nullptr) return otherwise;
    if (!found->is_boolean()) {
      wrong(key, "should be true or false");
      return otherwise;
    }
    return found->get<bool>();
  }

  template <class Words>
  auto word(const char* key, const Words& words) {
    auto value = words.front().second;
    const std::string given = text(key);
    if (given.empty()) return value;
    for (const auto& [word, meaning] : words) {
      if (word == given) return meaning;
    }
    std::string all;
    for (const auto& known : words)
      all += (all.empty() ? "'" : ", '") + std::string(known.first) + "'";
    wrong(key, "should be one of " + all);
    return value;
  }

  std::optional<StatedValue> value_and_sd(const char* key) {
    const Json* const found = find(key);
    if (found == nullptr) return std::nullopt;
    Reader inner(*found, place_ + ", '" + key + "'");
    const StatedValue stated{inner.number("value").value_or(NAN), inner.number("sd").value_or(0.0)};
    if (inner.problem_) problem_ = inner.problem_;
    if (!problem_ && !std::isfinite(stated.value)) wrong(key, "needs a 'value'");
    return stated;
  }

  // Reads each item of a list by `read`, which takes a Reader.
  template <class Item, class Read>
  std::vector<Item> list(const char* key, Read read, const char* item_words) {
    std::vector<Item> items;
    const Json* const found = find(key);
    if (found == nullptr) return items;
    if (!found->is_array()) {
      wrong(key, "should be a list");
      return items;
    }
    for (const Json& json : *found) {
      Reader inner(json, place_ + ", " + item_words + " " + std::to_string(items.size() + 1));
      if (!inner.problem_) items.push_back(read(inner));
      if (inner.problem_) {
        if (!problem_) problem_ = inner.problem_;
        break;
      }
    }
    return items;
  }

  std::string kept() const { return others_in(object_, known_); }
  const std::optional<Problem>& problem() const { return problem_; }

 private:
  const Json* find(const char* key) {
    known_.insert(key);
    if (problem_) return nullptr;
    const auto found = object_.find(key);
    return found == object_.end() || found->is_null() ? nullptr : &*found;
  }
  void wrong(const std::string& key, const std::string& what) {
    if (problem_) return;
    problem_ =
        Problem{Code::kBadFormat,
                "In " + place_ + (key.empty() ? " there" : ", '" + key + "'") + " " + what + ".",
                "Mend that place in a text editor, or go back to a saved copy.", ""};
  }

  const Json& object_;
  std::string place_;
  std::set<std::string> known_;
  std::optional<Problem> problem_;
};

TestBar bar_from(Reader& from) {
  TestBar bar;
  bar.wet_mm = from.number("wet_mm");
  bar.leather_mm = from.number("leather_hard_mm");
  bar.dry_mm = from.number("dry_mm");
  bar.fired_mm = from.number("fired_mm");
  bar.wet_g = from.number("wet_g");
  bar.dry_g = from.number("dry_g");
  bar.fired_g = from.number("fired_g");
  bar.firing_c = from.number("firing_c");
  bar.cone = from.text("cone");
  bar.way = from.word("way", kWays);
  bar.used = from.flag("used", true);
  bar.date = from.text("date");
  bar.note = from.text("note");
  bar.kept = from.kept();
  return bar;
}

MixPart part_from(Reader& from) {
  MixPart part;
  part.name = from.text("name");
  part.kind = from.word("kind", kKinds);
  part.dry_parts = from.number("dry_parts").value_or(0.0);
  part.record = from.text("record");
  part.kept = from.kept();
  return part;
}

StatedShrinkage stated_from(Reader& from) {
  StatedShrinkage stated;
  stated.from = from.word("basis", stages);
  stated.to = from.word("to", stages);
  stated.percent = from.number("percent").value_or(NAN);
  stated.sd_percent = from.number("sd_percent").value_or(stated.sd_percent);
  stated.source = from.text("source");
  stated.kept = from.kept();
  return stated;
}

PotRecord pot_from(Reader& from) {
  PotRecord pot;
  pot.pot = from.text("pot");
  pot.from = from.word("basis", stages);
  pot.to = from.word("to", stages);
  pot.percent = from.number("percent").value_or(NAN);
  pot.sd_percent = from.number("sd_percent").value_or(pot.sd_percent);
  pot.way = from.word("way", kWays);
  pot.firing_c = from.number("firing_c");
  pot.used = from.flag("used", true);
  pot.date = from.text("date");
  pot.kept = from.kept();
  return pot;
}

void put(Json& json, const char* key, const std::optional<double>& value) {
  if (value) json[key] = *value;
}
void put(Json& json, const char* key, const std::string& text) {
  if (!text.empty()) json[key] = text;
}
void put(Json& json, const char* key, const std::optional<StatedValue>& value) {
  if (value) json[key] = {{"value", value->value}, {"sd", value->sd}};
}

Json bar_to(const TestBar& bar) {
  Json json = Json::object();
  put(json, "wet_mm", bar.wet_mm);
  put(json, "leather_hard_mm", bar.leather_mm);
  put(json, "dry_mm", bar.dry_mm);
  put(json, "fired_mm", bar.fired_mm);
  put(json, "wet_g", bar.wet_g);
  put(json, "dry_g", bar.dry_g);
  put(json, "fired_g", bar.fired_g);
  put(json, "firing_c", bar.firing_c);
  put(json, "cone", bar.cone);
  if (bar.way != BarWay::kEither) json["way"] = word_of(kWays, bar.way);
  if (!bar.used) json["used"] = false;
  put(json, "date", bar.date);
  put(json, "note", bar.note);
  add_kept(bar.kept, json);
  return json;
}

Json part_to(const MixPart& part) {
  Json json = Json::object();
  json["name"] = part.name;
  if (part.kind != MixKind::kClay) json["kind"] = word_of(kKinds, part.kind);
  json["dry_parts"] = part.dry_parts;
  put(json, "record", part.record);
  add_kept(part.kept, json);
  return json;
}

Json stated_to(const StatedShrinkage& stated) {
  Json json = Json::object();
  json["basis"] = word_of(stages, stated.from);
  json["to"] = word_of(stages, stated.to);
  json["percent"] = stated.percent;
  json["sd_percent"] = stated.sd_percent;
  put(json, "source", stated.source);
  add_kept(stated.kept, json);
  return json;
}

Json pot_to(const PotRecord& pot) {
  Json json = Json::object();
  json["pot"] = pot.pot;
  json["basis"] = word_of(stages, pot.from);
  json["to"] = word_of(stages, pot.to);
  json["percent"] = pot.percent;
  json["sd_percent"] = pot.sd_percent;
  if (pot.way != BarWay::kEither) json["way"] = word_of(kWays, pot.way);
  put(json, "firing_c", pot.firing_c);
  if (!pot.used) json["used"] = false;
  put(json, "date", pot.date);
  add_kept(pot.kept, json);
  return json;
}

template <class Item, class Write>
void put_list(Json& json, const char* key, const std::vector<Item>& items, Write write) {
  if (items.empty()) return;
  Json list = Json::array();
  for (const Item& item : items) list.push_back(write(item));
  json[key] = std::move(list);
}

}  // namespace

Result<ClayBody> clay_from_json(const Json& object, const std::string& place) {
  Reader from(object, place);
  ClayBody body;
  body.record = from.text("record");
  body.name = from.text("name");
  body.note = from.text("note");
  body.mix = from.list<MixPart>("mix", part_from, "part");
  body.bars = from.list<TestBar>("bars", bar_from, "bar");
  body.pots = from.list<PotRecord>("pots", pot_from, "pot");
  body.stated = from.list<StatedShrinkage>("stated", stated_from, "stated shrinkage");
  body.firing_c = from.number("firing_c");
  body.water_percent = from.value_and_sd("water_percent_of_dry");
  body.wet_density = from.value_and_sd("wet_density_g_cm3");
  body.fired_density = from.value_and_sd("fired_density_g_cm3");
  body.reading_sd_mm = from.number("reading_sd_mm").value_or(body.reading_sd_mm);
  if (from.problem()) return *from.problem();
  body.kept = from.kept();
  return body;
}

Json clay_to_json(const ClayBody& body) {
  Json json = Json::object();
  json["record"] = body.record;
  json["name"] = body.name;
  put(json, "note", body.note);
  put_list(json, "mix", body.mix, part_to);
  put_list(json, "bars", body.bars, bar_to);
  put_list(json, "pots", body.pots, pot_to);
  put_list(json, "stated", body.stated, stated_to);
  put(json, "firing_c", body.firing_c);
  put(json, "water_percent_of_dry", body.water_percent);
  put(json, "wet_density_g_cm3", body.wet_density);
  put(json, "fired_density_g_cm3", body.fired_density);
  json["reading_sd_mm"] = body.reading_sd_mm;
  add_kept(body.kept, json);
  return json;
}

}  // namespace potshadow

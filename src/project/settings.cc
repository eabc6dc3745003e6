// SPDX-License-Identifier: MIT
#include "project/settings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <set>
#include <string_view>
#include <system_error>
#include <utility>

#include "core/files.h"
#include "project/json_text.h"
#include "project/private_folder.h"

namespace potshadow {
namespace {

constexpr int kSettingsVersion = 1;
constexpr const char* kVersionKey = "potshadow_settings";
constexpr std::uintmax_t kMostSettingsBytes = std::uintmax_t{1} << 20U;  // ours use some hundreds

constexpr std::array<std::pair<std::string_view, Theme>, 3> kThemes{
    {{"system", Theme::kSystem}, {"daylight", Theme::kDaylight}, {"evening", Theme::kEvening}}};
constexpr std::array<std::pair<std::string_view, LengthUnit>, 3> kUnits{
    {{"mm", LengthUnit::kMm}, {"cm", LengthUnit::kCm}, {"in", LengthUnit::kInch}}};

// Pairs each value of a list with its word.
template <class T, std::size_t count>
std::array<std::pair<std::string_view, T>, count> with_words(const std::array<T, count>& values,
                                                             std::string_view (*word)(T)) {
  std::array<std::pair<std::string_view, T>, count> words;
  for (std::size_t i = 0; i < count; ++i) words[i] = {word(values[i]), values[i]};
  return words;
}

template <class T, std::size_t count>
std::string word_of(const std::array<std::pair<std::string_view, T>, count>& words, T value) {
  for (const auto& [word, meaning] : words) {
    if (meaning == value) return std::string(word);
  }
  return std::string(words.front().first);
}

// Reads one key after the other; a value that cannot be leaves the default and is counted.
class Taker {
 public:
  explicit Taker(const Json& object) : object_(object) {}

  template <class T, std::size_t count>
  void word(const char* key, const std::array<std::pair<std::string_view, T>, count>& words,
            T& into) {
    const Json* value = find(key);
    if (value == nullptr) return;
    if (value->is_string()) {
      for (const auto& [word, meaning] : words) {
        if (value->get<std::string>() != word) continue;
        into = meaning;
        return;
      }
    }
    spoiled_.emplace_back(key);
  }
  void flag(const char* key, bool& into) {
    const Json* value = find(key);
    if (value == nullptr) return;
    if (value->is_boolean()) {
      into = value->get<bool>();
    } else {
      spoiled_.emplace_back(key);
    }
  }
  void number(const char* key, double least, double most, double& into) {
    const Json* value = find(key);
    if (value == nullptr) return;
    const double number = value->is_number() ? value->get<double>() : std::nan("");
    if (number >= least && number <= most) {
      into = number;
    } else {
      spoiled_.emplace_back(key);
    }
  }
  void text(const char* key, std::string& into) {
    const Json* value = find(key);
    if (value == nullptr) return;
    if (value->is_string()) {
      into = value->get<std::string>();
    } else {
      spoiled_.emplace_back(key);
    }
  }
  void path(const char* key, std::filesystem::path& into) {
    const Json* value = find(key);
    if (value == nullptr) return;
    if (is_path(*value)) {
      into = value->get<std::string>();
    } else {
      spoiled_.emplace_back(key);
    }
  }
  void paths(const char* key, std::size_t most, std::vector<std::filesystem::path>& into) {
    const Json* value = find(key);
    if (value == nullptr) return;
    bool sound = value->is_array();
    if (sound) {
      for (const Json& item : *value) {
        const bool named = is_path(item) && !item.get<std::string>().empty();
        sound = sound && named;
        if (!named || into.size() >= most) continue;
        const std::filesystem::path path = item.get<std::string>();
        if (std::find(into.begin(), into.end(), path) == into.end()) into.push_back(path);
      }
    }
    if (!sound) spoiled_.emplace_back(key);
  }

  const std::vector<std::string>& spoiled() const { return spoiled_; }
  // Returns the keys that were never asked for, as text; empty if there are none.
  std::string others() const {
    Json rest = Json::object();
    for (const auto& item : object_.items()) {
      if (!asked_.contains(item.key())) rest[item.key()] = item.value();
    }
    return rest.empty() ? std::string() : json_text(rest);
  }
  void skip(const char* key) { asked_.insert(key); }

 private:
  const Json* find(const char* key) {
    asked_.insert(key);
    const auto found = object_.find(key);
    return found == object_.end() || found->is_null() ? nullptr : &*found;
  }
  static bool is_path(const Json& value) {
    return value.is_string() && value.get<std::string>().find('\0') == std::string::npos;
  }

  const Json& object_;
  std::set<std::string> asked_;
  std::vector<std::string> spoiled_;
};

constexpr double kAsTheMonitorSays = 0.0;
constexpr double kLeastScale = 1.0;
constexpr double kMostScale = 3.0;
constexpr double kLeastAutosaveSeconds = 5.0;
constexpr double kMostAutosaveSeconds = 3600.0;
constexpr double kLeastWindow = 200.0;  // still to be found on a screen
constexpr double kMostWindow = 20'000.0;

Settings take_all(Taker& from) {
  Settings settings;
  from.skip(kVersionKey);
  from.word("theme", kThemes, settings.theme);
  from.word("unit", kUnits, settings.unit);
  from.word("paper", with_words(kPapers, paper_word), settings.paper);
  from.word("print", with_words(kPrinted, printed_word), settings.print.printed);
  from.word("pages", with_words(kPageWays, page_way_word), settings.print.way);
  from.text("printer", settings.print.printer);
  from.flag("left_handed", settings.print.left_handed);
  from.flag("whole_pieces", settings.print.whole);
  double scale = settings.scale;
  from.number("scale", kAsTheMonitorSays, kMostScale, scale);
  // What lies between "as the monitor says" and the least is neither.
  settings.scale = scale < kLeastScale ? kAsTheMonitorSays : scale;
  from.number("autosave_seconds", kLeastAutosaveSeconds, kMostAutosaveSeconds,
              settings.autosave_seconds);
  from.flag("steps_folded", settings.steps_folded);
  from.flag("figures_folded", settings.figures_folded);
  const auto pixels = [&](const char* key, int& into) {
    double value = into;
    from.number(key, kLeastWindow, kMostWindow, value);
    into = static_cast<int>(value);
  };
  pixels("window_width", settings.window_width);
  pixels("window_height", settings.window_height);
  from.path("last_folder", settings.last_folder);
  from.paths("recent", kMostRecent, settings.recent);
  settings.kept = from.others();
  return settings;
}

std::filesystem::path file_in(const UserFolders& folders) {
  return folders.config / "settings.json";
}

Result<Settings> usual_settings(const std::filesystem::path& file, const std::string& why) {
  return {
      Settings(),
      {{"The settings in '" + file.string() + "' " + why + ", so the usual ones are used.", true}}};
}

// JSON holds UTF-8 only; a name that is none would come back as another.
bool is_utf8(const std::string& text) {
  try {
    return !Json(text).dump().empty();
  } catch (const Json::exception&) {
    return false;
  }
}

std::string absolute_variable(const char* name) {
  const char* const value = std::getenv(name);
  return value != nullptr && value[0] == '/' ? value : "";
}

}  // namespace

Result<UserFolders> user_folders() {
  const std::string home = absolute_variable("HOME");
  const auto folder = [&](const char* variable, const char* otherwise) {
    const std::string chosen = absolute_variable(variable);
    if (!chosen.empty()) return std::filesystem::path(chosen) / "potshadow";
    if (home.empty()) return std::filesystem::path();
    return std::filesystem::path(home) / otherwise / "potshadow";
  };
  const UserFolders folders{folder("XDG_CONFIG_HOME", ".config"),
                            folder("XDG_STATE_HOME", ".local/state"),
                            folder("XDG_DATA_HOME", ".local/share")};
  if (folders.config.empty() || folders.state.empty()) {
    return Problem{Code::kFileMissing, "There is no home folder to keep settings in.",
                   "Set HOME to your home folder and start the program again.", ""};
  }
  return folders;
}

Result<Settings> load_settings(const UserFolders& folders) {
  const std::filesystem::path file = file_in(folders);
  const Result<std::string> bytes = read_file(file, kMostSettingsBytes);
  if (!bytes) {
    if (bytes.problem().code == Code::kFileMissing) return Settings();
    return usual_settings(file, "could not be read");
  }
  const Result<Json> json = parse_json(*bytes, {file.string()});
  if (!json || !json->is_object()) return usual_settings(file, "are damaged");
  const auto version = json->find(kVersionKey);
  if (version == json->end() || !version->is_number_integer() || version->get<double>() < 1.0) {
    return usual_settings(file, "are damaged");
  }
  Taker from(*json);
  Settings settings = take_all(from);
  if (version->get<double>() > kSettingsVersion) {
    // A later version may mean something else by the keys we know; those we do not know stay.
    Settings usual;
    usual.kept = settings.kept;
    return usual;
  }
  std::vector<Note> notes;
  if (!from.spoiled().empty()) {
    std::string keys;
    for (const std::string& key : from.spoiled()) keys += (keys.empty() ? "'" : ", '") + key + "'";
    notes.push_back({"In the settings '" + file.string() + "', " + keys +
                         " cannot be used, so what is usual is used instead.",
                     true});
  }
  return {std::move(settings), std::move(notes)};
}

Result<Done> save_settings(const Settings& settings, const UserFolders& folders) {
  Json json = Json::object();
  json[kVersionKey] = kSettingsVersion;
  json["theme"] = word_of(kThemes, settings.theme);
  json["unit"] = word_of(kUnits, settings.unit);
  json["paper"] = std::string(paper_word(settings.paper));
  json["print"] = std::string(printed_word(settings.print.printed));
  json["pages"] = std::string(page_way_word(settings.print.way));
  json["printer"] = is_utf8(settings.print.printer) ? settings.print.printer : "";
  json["left_handed"] = settings.print.left_handed;
  json["whole_pieces"] = settings.print.whole;
  json["scale"] = settings.scale;
  json["autosave_seconds"] = settings.autosave_seconds;
  json["steps_folded"] = settings.steps_folded;
  json["figures_folded"] = settings.figures_folded;
  json["window_width"] = settings.window_width;
  json["window_height"] = settings.window_height;
  const std::string last_folder = settings.last_folder.string();
  json["last_folder"] = is_utf8(last_folder) ? last_folder : "";
  Json recent = Json::array();
  for (const std::filesystem::path& path : settings.recent) {
    if (recent.size() < kMostRecent && is_utf8(path.string())) recent.push_back(path.string());
  }
  json["recent"] = std::move(recent);
  if (!settings.kept.empty()) {
    const Result<Json> kept = parse_json(settings.kept, {"kept settings"});
    if (kept.ok() && kept->is_object()) {
      for (const auto& item : kept->items()) {
        if (!json.contains(item.key())) json[item.key()] = item.value();
      }
    }
  }
  const Result<Done> made = make_private_folder(folders.config);
  if (!made) return made.problem();
  return write_file_whole(file_in(folders), json_text(json));
}

Settings with_recent(Settings settings, const std::filesystem::path& project) {
  if (project.empty()) return settings;
  std::error_code error;
  std::filesystem::path named = std::filesystem::absolute(project, error);
  if (error) named = project;
  // ".." behind a link leads elsewhere than the spelling says.
  if (std::find(named.begin(), named.end(), "..") == named.end()) named = named.lexically_normal();
  auto& recent = settings.recent;
  recent.erase(std::remove(recent.begin(), recent.end(), named), recent.end());
  recent.insert(recent.begin(), named);
  if (recent.size() > kMostRecent) recent.resize(kMostRecent);
  return settings;
}

}  // namespace potshadow

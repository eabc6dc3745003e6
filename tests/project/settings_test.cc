// SPDX-License-Identifier: MIT
#include "project/settings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <stdlib.h>
#include <sys/stat.h>

#include <fstream>
#include <iterator>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "core/temporary_folder.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

// Sets or takes away an environment variable for as long as it lives.
class Variable {
 public:
  Variable(const char* name, const char* value) : name_(name) {
    const char* const old = ::getenv(name);
    if (old != nullptr) old_ = old;
    set(value);
  }
  ~Variable() { set(old_ ? old_->c_str() : nullptr); }
  Variable(const Variable&) = delete;
  Variable& operator=(const Variable&) = delete;

 private:
  void set(const char* value) {
    if (value == nullptr) {
      ::unsetenv(name_.c_str());
    } else {
      ::setenv(name_.c_str(), value, 1);
    }
  }
  std::string name_;
  std::optional<std::string> old_;
};

std::string content(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

class SettingsFile : public testing::Test {
 protected:
  UserFolders folders() const { return {folder_.path() / "config", folder_.path() / "state"}; }
  std::filesystem::path file() const { return folders().config / "settings.json"; }
  void put(const std::string& text) const {
    std::filesystem::create_directories(folders().config);
    std::ofstream(file(), std::ios::binary) << text;
  }
  // Returns the settings loaded from `text` with the number of notes.
  std::pair<Settings, std::size_t> loaded(const std::string& text) const {
    put(text);
    const Result<Settings> settings = load_settings(folders());
    EXPECT_TRUE(settings.ok());
    EXPECT_EQ(content(file()), text);
    return {settings.ok() ? *settings : Settings(), settings.notes().size()};
  }

 private:
  TemporaryFolder folder_;
};

// XDG Base Directory Specification 0.8: the variables, their defaults, and that relative paths are
// "considered invalid and should be ignored".
TEST(UserFolders, FollowTheEnvironment) {
  const Variable home("HOME", "/somewhere/ann");
  {
    const Variable config("XDG_CONFIG_HOME", nullptr);
    const Variable state("XDG_STATE_HOME", "");
    const Result<UserFolders> folders = user_folders();
    ASSERT_TRUE(folders.ok());
    EXPECT_EQ(folders->config, "/somewhere/ann/.config/potshadow");
    EXPECT_EQ(folders->state, "/somewhere/ann/.local/state/potshadow");
  }
  {
    const Variable config("XDG_CONFIG_HOME", "/elsewhere/config");
    const Variable state("XDG_STATE_HOME", "relative/state");
    const Result<UserFolders> folders = user_folders();
    ASSERT_TRUE(folders.ok());
    EXPECT_EQ(folders->config, "/elsewhere/config/potshadow");
    EXPECT_EQ(folders->state, "/somewhere/ann/.local/state/potshadow");
  }
}

TEST(UserFolders, NeedAHomeUnlessBothAreNamed) {
  const Variable home("HOME", nullptr);
  const Variable config("XDG_CONFIG_HOME", "/elsewhere/config");
  {
    const Variable state("XDG_STATE_HOME", nullptr);
    const Result<UserFolders> folders = user_folders();
    ASSERT_FALSE(folders.ok());
    EXPECT_EQ(folders.problem().code, Code::kFileMissing);
  }
  const Variable state("XDG_STATE_HOME", "/elsewhere/state");
  const Result<UserFolders> folders = user_folders();
  ASSERT_TRUE(folders.ok());
  EXPECT_EQ(folders->state, "/elsewhere/state/potshadow");
}

TEST_F(SettingsFile, ComesBackTheSame) {
  Settings settings;
  settings.theme = Theme::kEvening;
  settings.unit = LengthUnit::kInch;
  settings.paper = Paper::kLetter;
  settings.print = {Printed::kRings, PageWay::kLying, "Büro \"oben\"", true, true};
  settings.scale = 1.25;
  settings.autosave_seconds = 30.5;
  settings.steps_folded = true;
  settings.figures_folded = true;
  settings.window_width = 1600;
  settings.window_height = 900;
  settings.last_folder = "/pots/case 3";
  settings.recent = {"/pots/case 3/Krüge \"oben\".potshadow", "/pots/low-bowl.potshadow"};
  ASSERT_TRUE(save_settings(settings, folders()).ok());
  const Result<Settings> back = load_settings(folders());
  ASSERT_TRUE(back.ok());
  EXPECT_TRUE(back.notes().empty());
  EXPECT_EQ(*back, settings);
}

TEST_F(SettingsFile, FolderIsForItsUserAlone) {
  // XDG Base Directory Specification 0.8: a folder that is missing is made "with permission 0700".
  ASSERT_TRUE(save_settings(Settings(), folders()).ok());
  struct stat info {};
  ASSERT_EQ(::stat(folders().config.c_str(), &info), 0);
  EXPECT_EQ(info.st_mode & 0777U, 0700U);
}

TEST_F(SettingsFile, MissingFileGivesTheUsualAndMakesNothing) {
  const Result<Settings> settings = load_settings(folders());
  ASSERT_TRUE(settings.ok());
  EXPECT_EQ(*settings, Settings());
  EXPECT_TRUE(settings.notes().empty());
  EXPECT_FALSE(std::filesystem::exists(folders().config));
}

TEST_F(SettingsFile, DamageGivesTheUsualAndANote) {
  std::size_t ran = 0;
  for (const std::string text :
       {"", " ", "{", "[]", "null", "\xFF\xFE", "{\"potshadow_settings\": 1, \"scale\": 2",
        "{\"scale\": 2}", "{\"potshadow_settings\": \"1\", \"scale\": 2}",
        "{\"potshadow_settings\": 0, \"scale\": 2}",
        "{\"potshadow_settings\": 1, \"scale\": 2, \"scale\": 2}"}) {
    const auto [settings, notes] = loaded(text);
    EXPECT_EQ(settings, Settings()) << text;
    EXPECT_EQ(notes, 1U) << text;
    ++ran;
  }
  EXPECT_EQ(ran, 11U);
  EXPECT_EQ(loaded(std::string(100'000, '[')).second, 1U);
  EXPECT_EQ(loaded("{\"potshadow_settings\": 1}" + std::string(2'000'000, ' ')).second, 1U);
  std::filesystem::remove(file());
  std::filesystem::create_directory(file());  // a folder in its place
  const Result<Settings> settings = load_settings(folders());
  ASSERT_TRUE(settings.ok());
  EXPECT_EQ(*settings, Settings());
  EXPECT_EQ(settings.notes().size(), 1U);
}

TEST_F(SettingsFile, EveryCutLoads) {
  Settings settings;
  settings.theme = Theme::kEvening;
  settings.recent = {"/pots/low-bowl.potshadow"};
  ASSERT_TRUE(save_settings(settings, folders()).ok());
  const std::string whole = content(file());
  std::size_t ran = 0;
  const std::size_t last_brace = whole.rfind('}');
  for (std::size_t length = 0; length <= last_brace; ++length) {
    EXPECT_EQ(loaded(whole.substr(0, length)), (std::pair<Settings, std::size_t>{{}, 1U}))
        << length;
    ++ran;
  }
  EXPECT_EQ(ran, last_brace + 1);
  EXPECT_GT(ran, 100U);
}

TEST_F(SettingsFile, OneBadValueSpoilsOnlyItself) {
  std::size_t ran = 0;
  for (const std::string bad : {"\"theme\": \"night\"",
                                "\"theme\": 1",
                                "\"unit\": \"yd\"",
                                "\"paper\": \"A4\"",
                                "\"print\": \"mug\"",
                                "\"pages\": true",
                                "\"printer\": 3",
                                "\"left_handed\": \"no\"",
                                "\"scale\": 3.5",
                                "\"scale\": -1",
                                "\"scale\": \"2\"",
                                "\"autosave_seconds\": 4",
                                "\"autosave_seconds\": 3601",
                                "\"steps_folded\": 1",
                                "\"window_width\": 0",
                                "\"window_height\": 1e9",
                                "\"last_folder\": 7",
                                "\"last_folder\": \"a\\u0000b\"",
                                "\"recent\": \"a\"",
                                "\"recent\": [1, \"\"]"}) {
    const auto [settings, notes] =
        loaded("{\"potshadow_settings\": 1, \"figures_folded\": true, " + bad + "}");
    Settings expected;
    expected.figures_folded = true;
    EXPECT_EQ(settings, expected) << bad;
    EXPECT_EQ(notes, 1U) << bad;
    ++ran;
  }
  EXPECT_EQ(ran, 20U);
}

TEST_F(SettingsFile, RecentFilesThatAreSoundAreKept) {
  const auto [settings, notes] =
      loaded("{\"potshadow_settings\": 1, \"recent\": [\"/a\", 3, \"/b\", \"/a\"]}");
  EXPECT_THAT(settings.recent, ElementsAre("/a", "/b"));
  EXPECT_EQ(notes, 1U);
  std::string many = "{\"potshadow_settings\": 1, \"recent\": [\"/0\"";
  for (int i = 1; i < 30; ++i) many += ", \"/" + std::to_string(i) + "\"";
  EXPECT_EQ(loaded(many + "]}").first.recent.size(), kMostRecent);
}

TEST_F(SettingsFile, NullAndScaleBelowOneStandForTheDefault) {
  const auto [settings, notes] =
      loaded("{\"potshadow_settings\": 1, \"theme\": null, \"scale\": 0.5, \"recent\": null}");
  EXPECT_EQ(settings, Settings());
  EXPECT_EQ(notes, 0U);
}

TEST_F(SettingsFile, LaterVersionGivesTheUsualWithoutANote) {
  const auto [settings, notes] =
      loaded("{\"potshadow_settings\": 2, \"theme\": \"evening\", \"scale\": true, \"tilt\": [1]}");
  Settings expected;
  expected.kept = settings.kept;
  EXPECT_EQ(settings, expected);
  EXPECT_EQ(notes, 0U);
  EXPECT_THAT(settings.kept, HasSubstr("\"tilt\": [1]"));
}

TEST_F(SettingsFile, UnknownKeysAreKept) {
  auto [settings, notes] =
      loaded("{\"potshadow_settings\": 1, \"panes\": { \"left\": [1, 2.50] }, \"unit\": \"cm\"}");
  EXPECT_EQ(notes, 0U);
  settings.unit = LengthUnit::kMm;
  ASSERT_TRUE(save_settings(settings, folders()).ok());
  EXPECT_THAT(content(file()), HasSubstr("\"left\": [1, 2.5]"));
  EXPECT_THAT(content(file()), HasSubstr("\"unit\": \"mm\""));
  EXPECT_EQ(load_settings(folders()).value(), settings);
  settings.kept = "no JSON";
  ASSERT_TRUE(save_settings(settings, folders()).ok());
  EXPECT_EQ(load_settings(folders()).value().kept, "");
}

TEST_F(SettingsFile, NamesThatAreNoTextAreLeftOut) {
  Settings settings;
  settings.last_folder = "/pots/\xFF";
  settings.recent = {"/pots/\xFF.potshadow", "/pots/a.potshadow"};
  settings.scale = std::numeric_limits<double>::quiet_NaN();
  ASSERT_TRUE(save_settings(settings, folders()).ok());
  const Result<Settings> back = load_settings(folders());
  EXPECT_EQ(back->last_folder, "");
  EXPECT_THAT(back->recent, ElementsAre("/pots/a.potshadow"));
  EXPECT_EQ(back->scale, 0.0);
}

TEST_F(SettingsFile, WhatCannotBeSavedIsAProblem) {
  std::ofstream(folders().config) << "a file in the folder's place";
  const Result<Done> saved = save_settings(Settings(), folders());
  ASSERT_FALSE(saved.ok());
  EXPECT_EQ(saved.problem().code, Code::kFileUnwritable);
  EXPECT_THAT(saved.problem().what, HasSubstr(folders().config.string()));
}

TEST(RecentFiles, NewestComesFirstAndOnlyOnce) {
  Settings settings;
  settings = with_recent(settings, "/pots/a.potshadow");
  settings = with_recent(settings, "/pots/b.potshadow");
  EXPECT_THAT(settings.recent, ElementsAre("/pots/b.potshadow", "/pots/a.potshadow"));
  settings = with_recent(settings, "/pots//./a.potshadow");
  EXPECT_THAT(settings.recent, ElementsAre("/pots/a.potshadow", "/pots/b.potshadow"));
  // ".." may lead through a link, so it is left as it is spelt.
  settings = with_recent(settings, "/pots/shelf/../b.potshadow");
  EXPECT_EQ(settings.recent.front(), "/pots/shelf/../b.potshadow");
  settings = with_recent(settings, "c.potshadow");
  EXPECT_EQ(settings.recent.front(), std::filesystem::current_path() / "c.potshadow");
  for (int i = 0; i < 20; ++i) settings = with_recent(settings, "/pots/" + std::to_string(i));
  EXPECT_EQ(settings.recent.size(), kMostRecent);
  EXPECT_EQ(settings.recent.front(), "/pots/19");
  EXPECT_EQ(with_recent(settings, ""), settings);
}

}  // namespace
}  // namespace potshadow

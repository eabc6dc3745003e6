// SPDX-License-Identifier: MIT
// What the window remembers between two runs, and the folders it is kept in.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "core/result.h"
#include "core/text.h"
#include "project/print_settings.h"
#include "sheets/paper.h"

// Source: XDG Base Directory Specification 0.8. A settings file that is missing, damaged or of a
// later version gives the defaults (and a note where it was damaged); it is never a reason not to
// start. Keys that this version does not know are kept.
namespace potshadow {

struct UserFolders {
  std::filesystem::path config;  // $XDG_CONFIG_HOME/potshadow, else ~/.config/potshadow
  std::filesystem::path state;   // $XDG_STATE_HOME/potshadow, else ~/.local/state/potshadow
  // $XDG_DATA_HOME/potshadow, else ~/.local/share/potshadow; empty where there is no home folder.
  std::filesystem::path data{};
};

// Returns the folders for this user, from the environment; relative values are ignored as the
// specification asks. Fails with kFileMissing where there is no home folder. Creates nothing.
Result<UserFolders> user_folders();

enum class Theme { kSystem, kDaylight, kEvening };

struct Settings {
  Theme theme = Theme::kSystem;  // kSystem: daylight, there being no standard to ask
  LengthUnit unit = LengthUnit::kMm;
  Paper paper = Paper::kA4;
  PrintSettings print{};
  double scale = 0.0;              // 0: as the monitor says; else 1 .. 3
  double autosave_seconds = 60.0;  // 5 .. 3600
  bool steps_folded = false;
  bool figures_folded = false;
  int window_width = 1280;  // in screen units at 100 %
  int window_height = 800;
  std::filesystem::path last_folder;          // where the browser opens
  std::vector<std::filesystem::path> recent;  // project files, newest first, at most kMostRecent
  std::string kept;                           // unknown keys, as JSON text
  friend bool operator==(const Settings&, const Settings&) = default;
};
inline constexpr std::size_t kMostRecent = 10;

// Returns the settings in `folders.config`/settings.json; never fails.
Result<Settings> load_settings(const UserFolders& folders);

// Writes them whole, creating the folder. Fails with kFileUnwritable.
Result<Done> save_settings(const Settings& settings, const UserFolders& folders);

// Returns `settings` with `project` at the head of the recent files.
Settings with_recent(Settings settings, const std::filesystem::path& project);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "desktop/window/folder_listing.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <system_error>

#include "core/text.h"
#include "desktop/session/opened_file.h"
#include "project/typed_vessel.h"

namespace potshadow {
namespace {

namespace fs = std::filesystem;

char small(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::string small(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](char c) { return small(c); });
  return text;
}

bool is_wanted(const std::string& name, const ListingChoice& choice) {
  const fs::path file(name);
  switch (file_kind(file)) {
    case FileKind::kPhoto:
      return choice.photos;
    case FileKind::kProject:
      return choice.projects;
    case FileKind::kOther:
      break;
  }
  if (choice.typed && names_typed_vessel(file.string())) return true;
  if (choice.clays && ending_of(file) == ".json") return true;
  return !choice.saved.empty() && ending_of(file) == choice.saved;
}

bool by_name(const FolderEntry& a, const FolderEntry& b) {
  if (a.folder != b.folder) return a.folder;
  const std::string left = small(a.name);
  const std::string right = small(b.name);
  return left != right ? left < right : a.name < b.name;
}

Problem cannot_list(const fs::path& folder, const std::error_code& error) {
  const std::string name = "'" + folder.string() + "'";
  if (error == std::errc::no_such_file_or_directory) {
    return {Code::kFileMissing, "There is no folder " + name + ".",
            "Check the path, or choose another folder.", error.message()};
  }
  if (error == std::errc::not_a_directory) {
    return {Code::kFileUnreadable, name + " is not a folder.", "Choose the folder that it is in.",
            error.message()};
  }
  return {Code::kFileUnreadable, "The folder " + name + " cannot be looked into.",
          "Choose another folder, or ask for permission to read it.", error.message()};
}

std::optional<int> hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  const char lower = small(c);
  if (lower >= 'a' && lower <= 'f') return lower - 'a' + 10;
  return std::nullopt;
}

std::string without_percents(std::string_view text) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '%' && i + 2 < text.size()) {
      const auto high = hex_digit(text[i + 1]);
      const auto low = hex_digit(text[i + 2]);
      if (high && low && (*high != 0 || *low != 0)) {
        plain += static_cast<char>(*high * 16 + *low);
        i += 2;
        continue;
      }
    }
    plain += text[i];
  }
  return plain;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlank = " \t\r\n";
  const std::size_t first = text.find_first_not_of(kBlank);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlank) - first + 1);
}

}  // namespace

Result<std::vector<FolderEntry>> list_folder(const fs::path& folder, const ListingChoice& choice) {
  std::error_code error;
  fs::directory_iterator at(folder, error);
  if (error) return cannot_list(folder, error);
  std::vector<FolderEntry> entries;
  while (at != fs::directory_iterator()) {
    const std::string name = at->path().filename().string();
    std::error_code ignored;
    const bool hidden = name.starts_with('.');
    if (choice.hidden || !hidden) {
      if (at->is_directory(ignored)) {
        entries.push_back({name, true, 0});
      } else if (is_wanted(name, choice) && at->exists(ignored)) {
        const std::uintmax_t bytes = at->file_size(ignored);
        entries.push_back({name, false, ignored ? 0 : bytes});
      }
    }
    at.increment(error);
    if (error) return cannot_list(folder, error);
  }
  std::sort(entries.begin(), entries.end(), by_name);
  return entries;
}

fs::path typed_path(std::string_view text, const fs::path& folder, const fs::path& home) {
  text = trimmed(text);
  text = trimmed(text.substr(0, text.find('\n')));
  for (const char quote : {'"', '\''}) {
    if (text.size() >= 2 && text.front() == quote && text.back() == quote) {
      text = text.substr(1, text.size() - 2);
      break;
    }
  }
  std::string plain(text);
  constexpr std::string_view kScheme = "file://";
  if (text.starts_with(kScheme)) {
    // What stands between the scheme and the path is a host, which is this one.
    const std::size_t path = text.find('/', kScheme.size());
    plain = path == std::string_view::npos ? "" : without_percents(text.substr(path));
  }
  if (plain.empty()) return {};
  if (plain == "~") return home;
  if (plain.starts_with("~/")) return (home / plain.substr(2)).lexically_normal();
  return (folder / plain).lexically_normal();
}

fs::path with_ending(const fs::path& file, std::string_view ending) {
  if (ending_of(file) == small(std::string(ending))) return file;
  fs::path longer = file;
  longer += ending;
  return longer;
}

std::string bytes_text(std::uintmax_t bytes) {
  constexpr std::uintmax_t kKilo = 1000;
  constexpr std::uintmax_t kMega = 1000 * kKilo;
  if (bytes < kKilo) return std::to_string(bytes) + " bytes";
  if (bytes < kMega) return std::to_string((bytes + kKilo / 2) / kKilo) + " kB";
  return fixed_text(static_cast<double>(bytes) / static_cast<double>(kMega), 1) + " MB";
}

fs::path home_folder() {
  const char* const home = std::getenv("HOME");
  return home != nullptr && *home == '/' ? fs::path(home) : fs::path("/");
}

std::optional<fs::path> pictures_folder(const fs::path& home) {
  const auto usable = [](const fs::path& folder) {
    std::error_code error;
    return fs::is_directory(folder, error);
  };
  const char* const config = std::getenv("XDG_CONFIG_HOME");
  const fs::path configs =
      config != nullptr && *config == '/' ? fs::path(config) : home / ".config";
  std::ifstream dirs(configs / "user-dirs.dirs");
  constexpr std::string_view kKey = "XDG_PICTURES_DIR=";
  for (std::string line; std::getline(dirs, line);) {
    if (!line.starts_with(kKey)) continue;
    std::string value(trimmed(std::string_view(line).substr(kKey.size())));
    std::erase(value, '"');
    constexpr std::string_view kHome = "$HOME";
    const fs::path folder = value.starts_with(kHome)
                                ? fs::path(home.string() + value.substr(kHome.size()))
                                : fs::path(value);
    if (folder.is_absolute() && folder.lexically_normal() != home.lexically_normal() &&
        usable(folder)) {
      return folder;
    }
  }
  const fs::path usual = home / "Pictures";
  if (usable(usual)) return usual;
  return std::nullopt;
}

}  // namespace potshadow

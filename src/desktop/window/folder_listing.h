// SPDX-License-Identifier: MIT
// What is in a folder, and how typed or pasted paths are understood.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"

// Names are bytes as the file system has them. Nothing here opens a file.
namespace potshadow {

struct FolderEntry {
  std::string name;
  bool folder = false;
  std::uintmax_t bytes = 0;  // of a file
  friend bool operator==(const FolderEntry&, const FolderEntry&) = default;
};

struct ListingChoice {
  bool photos = true;
  bool projects = true;
  std::string saved{};  // files with this ending, as ".pdf"
  bool clays = false;   // .json
  bool typed = false;   // pots whose sizes were typed: .txt, .csv
  bool hidden = false;  // names that begin with a dot
};

// Returns the folders and the files of the kinds that are asked for: folders first, each sorted by
// name without regard to large and small letters. What cannot be looked at is left out. Fails with
// kFileMissing, or kFileUnreadable (no permission, not a folder).
Result<std::vector<FolderEntry>> list_folder(const std::filesystem::path& folder,
                                             const ListingChoice& choice);

// Returns the path in a text as typed or pasted: blanks and line ends around it, quotes around it
// and "file://" (with its %20) are taken off, of several lines the first counts, "~" is `home`, and
// what is not absolute is in `folder`. Empty where nothing is left. Source of the address's form:
// RFC 8089.
std::filesystem::path typed_path(std::string_view text, const std::filesystem::path& folder,
                                 const std::filesystem::path& home);

// Returns the file with `ending` (".potshadow") put behind its name, unless it has that ending.
std::filesystem::path with_ending(const std::filesystem::path& file, std::string_view ending);

// Returns "812 kB", "4.2 MB"; 1 kB is 1000 bytes, as SI has it.
std::string bytes_text(std::uintmax_t bytes);

// Returns the user's folder, or "/" where the environment does not say.
std::filesystem::path home_folder();
// Returns the user's folder of pictures, where there is one. Source: the user-dirs.dirs file of
// xdg-user-dirs (XDG_PICTURES_DIR), else "Pictures" in the user's folder.
std::optional<std::filesystem::path> pictures_folder(const std::filesystem::path& home);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "project/shared_files.h"

#include "core/files.h"
#include "project/private_folder.h"

namespace potshadow {

Result<FileLock> lock_book(const std::filesystem::path& book) {
  const Result<Done> made = make_private_folder(book.parent_path());
  if (!made) return made.problem();
  return FileLock::take(book);
}

std::optional<std::string> print_of_file(const std::filesystem::path& file) {
  const Result<std::string> bytes = read_file(file, kMostProjectBytes);
  if (!bytes) return std::nullopt;
  return sha256_hex(*bytes);
}

Result<Done> save_if_unchanged(const Project& project, const std::filesystem::path& file,
                               const std::optional<std::string>& print, const std::string& next) {
  const Result<FileLock> lock = FileLock::take(file);
  if (!lock) return lock.problem();
  const std::optional<std::string> now = print_of_file(file);
  if (now && now != print) {
    return Problem{Code::kFileUnwritable,
                   "Another window or program has changed '" + file.string() +
                       "' since it was opened here, so it was left alone.",
                   next, ""};
  }
  return save_project(project, file);
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Changing files that another program may be changing too: the user's books, and projects.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "core/file_lock.h"
#include "core/result.h"
#include "project/project.h"

namespace potshadow {

// Returns the lock of a book, to be held from before it is loaded until after it is saved; makes
// its folder. Fails with kFileUnwritable (see FileLock). Slow where it waits.
Result<FileLock> lock_book(const std::filesystem::path& book);

// Returns what a project's file holds, in short; nothing where it cannot be read.
std::optional<std::string> print_of_file(const std::filesystem::path& file);

// Writes the project as save_project does, unless its file holds something else by now than `print`
// (print_of_file, taken before it was read) says; of no print, unless there is a file by now. A
// file that is gone is written anew. Fails as save_project and FileLock do, and with
// kFileUnwritable where another program has changed the file, which is left alone; `next` says what
// to do then.
Result<Done> save_if_unchanged(const Project& project, const std::filesystem::path& file,
                               const std::optional<std::string>& print, const std::string& next);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Keeps two programs from changing one file at the same time.
#pragma once

#include <filesystem>

#include "core/descriptor.h"
#include "core/result.h"

// Whoever reads a file, changes what it held and writes it holds its lock from before the reading
// until after the writing; then no change of another program is lost. The lock is a hidden file
// beside it, `.potshadow-NAME.lock`, locked by flock() and removed when it is given back. What a
// killed program leaves of it locks nothing and may be deleted. Where none can be had (a folder
// without locks, or one that cannot be written) the work goes on without: the save itself says what
// it cannot do.
namespace potshadow {

class FileLock {
 public:
  // Waits until no other program holds the lock of `file`, which need not exist. Fails with
  // kFileUnwritable where one holds it for five seconds. Slow where it waits.
  static Result<FileLock> take(const std::filesystem::path& file);

  ~FileLock();
  FileLock(FileLock&&) noexcept = default;
  FileLock(const FileLock&) = delete;
  FileLock& operator=(const FileLock&) = delete;
  FileLock& operator=(FileLock&&) = delete;

 private:
  FileLock() : held_(-1) {}
  FileLock(Descriptor held, std::filesystem::path path);
  Descriptor held_;
  std::filesystem::path path_;
};

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// An open file, and the lock on it, given back when they go out of scope.
#pragma once

#include <filesystem>

namespace potshadow {

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}  // of open(); below zero: nothing is open
  ~Descriptor();
  Descriptor(Descriptor&& other) noexcept;
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;

  int get() const { return fd_; }
  // Returns what close() does: some folders tell only then that a write has failed.
  int close();

 private:
  int fd_;
};

// Locks the open file as flock() has it (LOCK_EX, LOCK_NB). Returns 0 or the error's number.
int lock_file(const Descriptor& file, int how);

// Returns whether `path` still names the file that is open: nobody has cleared it away meanwhile.
bool still_there(const Descriptor& file, const std::filesystem::path& path);

}  // namespace potshadow

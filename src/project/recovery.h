// SPDX-License-Identifier: MIT
// Copies of unsaved work, kept so that a crash loses at most the last minute.
#pragma once

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

#include "core/result.h"
#include "project/project.h"

// Each running window owns one slot in `state`/recovery: a folder of its own with a file that holds
// the project with absolute photograph paths and, under the key "recovery", which file it belongs
// to and when it was written. The owner holds a lock (flock) on a file beside it while it runs, so
// a slot whose lock is free was left behind by a crash. Slots are written whole (core/files.h).
namespace potshadow {

struct RecoveredWork {
  std::filesystem::path slot;          // to give to discard_recovered
  std::filesystem::path project_file;  // empty where it had never been saved
  std::chrono::system_clock::time_point saved_at;
  Project project;  // photographs by absolute path
};

// The slot of this window; gone (file and lock) when it is destroyed in good order.
class RecoverySlot {
 public:
  // Makes a slot in `state_folder`/recovery and locks it. Fails with kFileUnwritable.
  static Result<RecoverySlot> create(const std::filesystem::path& state_folder);
  RecoverySlot(RecoverySlot&&) noexcept;
  RecoverySlot& operator=(RecoverySlot&&) noexcept;
  RecoverySlot(const RecoverySlot&) = delete;
  RecoverySlot& operator=(const RecoverySlot&) = delete;
  ~RecoverySlot();

  // Writes the work to the slot; photographs named relative to `project_file` (to the current
  // folder where it is empty) become absolute. Fails with kFileUnwritable, and with kBadValue for
  // what no project can hold (check_project); the slot then keeps what it had. Slow: waits for the
  // disk.
  Result<Done> keep(const Project& project, const std::filesystem::path& project_file,
                    std::chrono::system_clock::time_point now) const;
  // Forgets what was kept: the work has been saved or given up.
  void clear() const;

 private:
  struct Lock;
  explicit RecoverySlot(std::unique_ptr<Lock> lock);
  std::unique_ptr<Lock> lock_;
};

// Returns the work left behind by windows that are gone, newest first. Slots that cannot be read
// are left alone and named in a note; slots that hold nothing are removed. Fails with
// kFileUnreadable where the folder cannot be read.
Result<std::vector<RecoveredWork>> left_behind(const std::filesystem::path& state_folder);

// Deletes a slot after its work was taken over or turned down.
void discard_recovered(const RecoveredWork& work);

}  // namespace potshadow

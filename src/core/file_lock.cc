// SPDX-License-Identifier: MIT
#include "core/file_lock.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <thread>
#include <utility>

#include "core/files.h"

namespace potshadow {

Result<FileLock> FileLock::take(const std::filesystem::path& file) {
  using std::chrono::steady_clock;
  constexpr auto kLongestWait = std::chrono::seconds(5);  // a save takes less than one
  constexpr auto kPause = std::chrono::milliseconds(5);
  const std::filesystem::path target = behind_links(file);
  const std::filesystem::path path =
      target.parent_path() / (".potshadow-" + target.filename().string() + ".lock");
  const auto start = steady_clock::now();
  do {
    Descriptor held(::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0666));
    if (held.get() < 0) return FileLock();
    const int error = lock_file(held, LOCK_EX | LOCK_NB);
    if (error == EWOULDBLOCK) {
      std::this_thread::sleep_for(kPause);
      continue;
    }
    // Whoever held it may have removed it in between; then this is the lock of nothing.
    if (error != 0 || still_there(held, path)) return FileLock(std::move(held), path);
  } while (steady_clock::now() - start < kLongestWait);
  return Problem{Code::kFileUnwritable,
                 "Another program keeps the file '" + file.string() + "' to itself.",
                 "Wait until it has finished, or end it, and try again.", ""};
}

FileLock::FileLock(Descriptor held, std::filesystem::path path)
    : held_(std::move(held)), path_(std::move(path)) {}

FileLock::~FileLock() {
  if (held_.get() >= 0) ::unlink(path_.c_str());  // while it is held: nobody else's is removed
}

}  // namespace potshadow

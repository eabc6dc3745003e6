// SPDX-License-Identifier: MIT
#include "core/descriptor.h"

#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <utility>

namespace potshadow {

Descriptor::~Descriptor() {
  if (fd_ >= 0) ::close(fd_);
}

Descriptor::Descriptor(Descriptor&& other) noexcept : fd_(std::exchange(other.fd_, -1)) {}

int Descriptor::close() { return ::close(std::exchange(fd_, -1)); }

int lock_file(const Descriptor& file, int how) {
  while (::flock(file.get(), how) != 0) {
    if (errno != EINTR) return errno;
  }
  return 0;
}

bool still_there(const Descriptor& file, const std::filesystem::path& path) {
  struct stat open {};
  struct stat named {};
  return ::fstat(file.get(), &open) == 0 && ::stat(path.c_str(), &named) == 0 &&
         open.st_dev == named.st_dev && open.st_ino == named.st_ino;
}

}  // namespace potshadow

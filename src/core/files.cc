// SPDX-License-Identifier: MIT
#include "core/files.h"

#include <fcntl.h>
#include <nettle/sha2.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <system_error>
#include <vector>

#include "core/descriptor.h"

namespace potshadow {
namespace {

std::string error_text(int error) { return std::generic_category().message(error); }

std::string quoted(const std::filesystem::path& path) { return "'" + path.string() + "'"; }

std::string size_text(std::uintmax_t bytes) {
  constexpr std::uintmax_t kMiB = std::uintmax_t{1} << 20U;
  if (bytes < kMiB) return std::to_string(bytes) + " bytes";
  return std::to_string(bytes / kMiB) + " MiB";
}

Problem cannot_write(const std::filesystem::path& path, int error) {
  std::string next = "Choose another place, or ask for permission to write there.";
  if (error == ENOSPC || error == EDQUOT) next = "Free some space on the disk and try again.";
  if (error == EFBIG) next = "Choose a place that takes larger files.";
  if (error == ENOENT) next = "Make the folder first, or choose another place.";
  return {Code::kFileUnwritable,
          "The file " + quoted(path) + " could not be written: " + error_text(error) + ".", next,
          "errno " + std::to_string(error)};
}

Problem cannot_read(const std::filesystem::path& path, int error) {
  if (error == ENOENT || error == ENOTDIR) {
    return {Code::kFileMissing, "There is no file " + quoted(path) + ".",
            "Check the name and the folder.", ""};
  }
  return {Code::kFileUnreadable,
          "The file " + quoted(path) + " could not be read: " + error_text(error) + ".",
          "Check that it is a file and that you may read it.", "errno " + std::to_string(error)};
}

// Returns 0, or the errno of the failed write.
int write_all(int fd, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(fd, bytes.data(), bytes.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      return errno;
    }
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return 0;
}

// Opens a new hidden file in `folder`, with a name that nobody else uses, and sets `name` to it.
// Returns its descriptor, or -1 with errno set.
int open_temporary(const std::filesystem::path& folder, mode_t mode, std::filesystem::path& name) {
  constexpr int kMostTries = 1000;  // far more files than killed programs leave behind
  for (int i = 0; i < kMostTries; ++i) {
    name =
        folder / (".potshadow-" + std::to_string(::getpid()) + "-" + std::to_string(i) + ".part");
    const int fd = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (fd >= 0 || errno != EEXIST) return fd;
  }
  return -1;
}

// Returns whether an error says that a folder has no such thing as what was asked: network folders
// and foreign file systems refuse to flush a file or to set its permissions, though it is whole.
bool is_not_to_be_had(int error) {
  return error == EPERM || error == EINVAL || error == ENOSYS || error == EOPNOTSUPP;
}

// Writes to what is no ordinary file (a pipe, a terminal, /dev/null): it must not be replaced.
Result<Done> write_straight(const std::filesystem::path& path, std::string_view bytes) {
  Descriptor file(::open(path.c_str(), O_WRONLY | O_NOCTTY | O_CLOEXEC));
  if (file.get() < 0) return cannot_write(path, errno);
  if (const int error = write_all(file.get(), bytes); error != 0) return cannot_write(path, error);
  if (file.close() != 0) return cannot_write(path, errno);
  return Done{};
}

}  // namespace

std::filesystem::path behind_links(std::filesystem::path path) {
  constexpr int kMostLinks = 40;  // as many as the kernel follows
  for (int i = 0; i < kMostLinks; ++i) {
    std::error_code error;
    const std::filesystem::path next = std::filesystem::read_symlink(path, error);
    if (error) break;
    path = path.parent_path() / next;  // an absolute `next` replaces the whole
  }
  return path;
}

Result<std::string> read_file(const std::filesystem::path& path, std::uintmax_t most_bytes) {
  Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  if (file.get() < 0) return cannot_read(path, errno);
  struct stat info {};
  if (::fstat(file.get(), &info) != 0) return cannot_read(path, errno);
  if (S_ISDIR(info.st_mode)) return cannot_read(path, EISDIR);
  if (!S_ISREG(info.st_mode)) {
    return Problem{Code::kFileUnreadable, quoted(path) + " is not an ordinary file.",
                   "Give the path of a file on disk.", ""};
  }
  const auto too_large = [&] {
    return Problem{Code::kFileTooLarge,
                   "The file " + quoted(path) + " is larger than the " + size_text(most_bytes) +
                       " this program reads here.",
                   "Check that it is the right file; save a smaller copy if it is.", ""};
  };
  if (static_cast<std::uintmax_t>(info.st_size) > most_bytes) return too_large();
  std::string bytes;
  bytes.reserve(static_cast<std::size_t>(info.st_size));
  std::vector<char> buffer(std::size_t{1} << 18);
  while (true) {
    const ssize_t count = ::read(file.get(), buffer.data(), buffer.size());
    if (count < 0) {
      if (errno == EINTR) continue;
      return cannot_read(path, errno);
    }
    if (count == 0) break;
    bytes.append(buffer.data(), static_cast<std::size_t>(count));
    if (bytes.size() > most_bytes) return too_large();
  }
  return bytes;
}

Result<Done> write_file_whole(const std::filesystem::path& path, std::string_view bytes) {
  struct stat old {};
  const bool replaces = ::stat(path.c_str(), &old) == 0;
  if (!replaces && errno != ENOENT) return cannot_write(path, errno);
  if (replaces && S_ISDIR(old.st_mode)) return cannot_write(path, EISDIR);
  if (replaces && !S_ISREG(old.st_mode)) return write_straight(path, bytes);
  if (replaces && ::faccessat(AT_FDCWD, path.c_str(), W_OK, AT_EACCESS) != 0) {
    return cannot_write(path, errno);
  }
  const std::filesystem::path target = behind_links(path);
  std::filesystem::path folder = target.parent_path();
  if (folder.empty()) folder = ".";

  std::filesystem::path temporary;
  // A new file gets what the user's mask leaves of 0666; a replaced one stays as open as it was,
  // and at no time more.
  Descriptor file(open_temporary(folder, replaces ? 0600 : 0666, temporary));
  if (file.get() < 0) return cannot_write(path, errno);
  const auto give_up = [&](int error) {
    ::unlink(temporary.c_str());
    return cannot_write(path, error);
  };
  if (const int error = write_all(file.get(), bytes); error != 0) return give_up(error);
  if (replaces && ::fchmod(file.get(), old.st_mode & 07777U) != 0 && !is_not_to_be_had(errno)) {
    return give_up(errno);
  }
  if (::fsync(file.get()) != 0 && !is_not_to_be_had(errno)) return give_up(errno);
  if (file.close() != 0) return give_up(errno);
  if (::rename(temporary.c_str(), target.c_str()) != 0) return give_up(errno);
  // The rename itself must reach the disk; a folder that cannot be flushed is not an error.
  const Descriptor opened_folder(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (opened_folder.get() >= 0) ::fsync(opened_folder.get());
  return Done{};
}

std::string sha256_hex(std::string_view bytes) {
  sha256_ctx context{};
  sha256_init(&context);
  sha256_update(&context, bytes.size(), reinterpret_cast<const std::uint8_t*>(bytes.data()));
  std::array<std::uint8_t, SHA256_DIGEST_SIZE> digest{};
  sha256_digest(&context, digest.size(), digest.data());
  std::string text;
  for (const std::uint8_t byte : digest) {
    constexpr std::string_view kDigits = "0123456789abcdef";
    text += kDigits[byte >> 4U];
    text += kDigits[byte & 15U];
  }
  return text;
}

}  // namespace potshadow

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

namespace potshadow {
namespace {

std::string error_text(int error) { return std::generic_category().message(error); }

std::string quoted(const std::filesystem::path& path) { return "'" + path.string() + "'"; }

Problem cannot_write(const std::filesystem::path& path, int error) {
  std::string next = "Choose another place, or ask for permission to write there.";
  if (error == ENOSPC || error == EDQUOT) next = "Free some space on the disk and try again.";
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

// Closes a file descriptor when it goes out of scope.
class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  ~Descriptor() {
    if (fd_ >= 0) ::close(fd_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int get() const { return fd_; }
  int close() {
    const int result = ::close(fd_);
    fd_ = -1;
    return result;
  }

 private:
  int fd_;
};

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

}  // namespace

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
                   "The file " + quoted(path) + " is larger than the " +
                       std::to_string(most_bytes / (1024 * 1024)) + " MiB this program reads.",
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
  std::error_code ignored;
  std::filesystem::path target = path;
  if (std::filesystem::is_symlink(path, ignored)) {
    const auto resolved = std::filesystem::weakly_canonical(path, ignored);
    if (!ignored) target = resolved;
  }
  if (std::filesystem::is_directory(target, ignored)) return cannot_write(path, EISDIR);
  if (std::filesystem::exists(target, ignored) && ::access(target.c_str(), W_OK) != 0) {
    return cannot_write(path, errno);
  }
  std::filesystem::path folder = target.parent_path();
  if (folder.empty()) folder = ".";

  std::string temporary = (folder / ("." + target.filename().string() + ".XXXXXX")).string();
  Descriptor file(::mkostemp(temporary.data(), O_CLOEXEC));
  if (file.get() < 0) return cannot_write(path, errno);
  const auto give_up = [&](int error) {
    ::unlink(temporary.c_str());
    return cannot_write(path, error);
  };
  struct stat info {};
  mode_t mode = 0;
  if (::stat(target.c_str(), &info) == 0) {
    mode = info.st_mode & 07777U;
  } else {
    const mode_t mask = ::umask(0);
    ::umask(mask);
    mode = 0666U & ~mask;
  }
  if (::fchmod(file.get(), mode) != 0) return give_up(errno);
  if (const int error = write_all(file.get(), bytes); error != 0) return give_up(error);
  if (::fsync(file.get()) != 0) return give_up(errno);
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

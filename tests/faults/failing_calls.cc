// SPDX-License-Identifier: MIT
// A library to load before a program: it counts the program's calls to the system that concern
// files below one folder, and makes one of them fail, or ends the program there.
//
//   FAULTS_BELOW=FOLDER   the calls that count: those with a path in it, or a file opened there
//   FAULTS_LOG=FILE       every such call is written there, a line each: its name, and the path
//                         where it has one
//   FAULTS_AT=N           the call, from 1, that is not carried out; 0: none
//   FAULTS_HOW=ENOSPC|EIO|EACCES|EINTR   it fails so; EINTR: once, and again works
//                         short: a write takes half its bytes, and the next one finds the disk full
//                         kill: the program is killed before it; killed: right after it
//   FAULTS_REFUSED=NAMES  these calls, as "fsync fchmod", are never to be had in that folder, as on
//   a
//                         network's or a foreign file system's, and fail with FAULTS_ERRNO, a
//                         number
#include <dlfcn.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <mutex>
#include <string>
#include <string_view>

namespace {

template <class Function>
Function* real(const char* name) {
  return reinterpret_cast<Function*>(::dlsym(RTLD_NEXT, name));
}

std::string_view setting(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string_view() : value;
}

int number(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? 0 : std::atoi(value);
}

constexpr int kMostFiles = 1024;
bool counts_fd[kMostFiles];  // files opened below the folder
std::recursive_mutex guard;
int calls = 0;

bool counts(const char* path) {
  const std::string_view below = setting("FAULTS_BELOW");
  if (below.empty() || path == nullptr) return false;
  std::string full = path;
  if (full.empty() || full.front() != '/') {
    char here[4096];
    if (::getcwd(here, sizeof here) == nullptr) return false;
    full = std::string(here) + "/" + full;
  }
  return std::string_view(full).starts_with(below);
}

bool counts(int fd) { return fd >= 0 && fd < kMostFiles && counts_fd[fd]; }

void log_call(const char* name, const char* path) {
  const std::string file(setting("FAULTS_LOG"));
  if (file.empty()) return;
  const int log = real<int(const char*, int, ...)>("open")(
      file.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
  const std::string line = std::string(name) + " " + (path == nullptr ? "" : path) + "\n";
  if (log >= 0 &&
      real<ssize_t(int, const void*, size_t)>("write")(log, line.data(), line.size()) < 0) {
    std::abort();
  }
  real<int(int)>("close")(log);
}

struct Verdict {
  int error = 0;            // the call fails with it
  bool is_short = false;    // it does half of its work
  bool kill_after = false;  // and is the last one
};

// Counts a call and says what becomes of it.
Verdict next_call(const char* name, const char* path) {
  log_call(name, path);
  ++calls;
  Verdict verdict;
  if (setting("FAULTS_REFUSED").find(name) != std::string_view::npos) {
    verdict.error = number("FAULTS_ERRNO");
    return verdict;
  }
  const int at = number("FAULTS_AT");
  if (at == 0 || calls < at) return verdict;
  const std::string_view how = setting("FAULTS_HOW");
  if (how == "short") {
    verdict.is_short = calls == at;
    verdict.error = calls == at + 1 ? ENOSPC : 0;
    return verdict;
  }
  if (how == "kill" && calls == at) ::kill(::getpid(), SIGKILL);
  verdict.kill_after = how == "killed" && calls == at;
  if (calls > at) return verdict;
  if (how == "ENOSPC") verdict.error = ENOSPC;
  if (how == "EIO") verdict.error = EIO;
  if (how == "EACCES") verdict.error = EACCES;
  if (how == "EINTR") verdict.error = EINTR;
  return verdict;
}

// Carries a call out, or not, as next_call says.
template <class Act>
auto carry_out(const char* name, const char* path, Act act) -> decltype(act(false)) {
  const std::lock_guard lock(guard);
  const Verdict verdict = next_call(name, path);
  if (verdict.error != 0) {
    errno = verdict.error;
    return -1;
  }
  const auto result = act(verdict.is_short);
  if (verdict.kill_after) ::kill(::getpid(), SIGKILL);
  return result;
}

template <class Open>
int opened(const char* path, Open open) {
  if (!counts(path)) {
    const int fd = open();
    const std::lock_guard lock(guard);
    if (fd >= 0 && fd < kMostFiles) counts_fd[fd] = false;
    return fd;
  }
  return carry_out("open", path, [&](bool) {
    const int fd = open();
    if (fd >= 0 && fd < kMostFiles) counts_fd[fd] = true;
    return fd;
  });
}

mode_t mode_of(int flags, va_list& rest) {
  return (flags & O_CREAT) != 0 ? va_arg(rest, mode_t) : 0;
}

}  // namespace

extern "C" {

int open(const char* path, int flags, ...) {
  va_list rest;
  va_start(rest, flags);
  const mode_t mode = mode_of(flags, rest);
  va_end(rest);
  return opened(path, [&] { return real<int(const char*, int, ...)>("open")(path, flags, mode); });
}

int open64(const char* path, int flags, ...) {
  va_list rest;
  va_start(rest, flags);
  const mode_t mode = mode_of(flags, rest);
  va_end(rest);
  return opened(path,
                [&] { return real<int(const char*, int, ...)>("open64")(path, flags, mode); });
}

ssize_t read(int fd, void* into, size_t size) {
  const auto act = [&](bool half) {
    return real<ssize_t(int, void*, size_t)>("read")(fd, into, half && size > 1 ? size / 2 : size);
  };
  return counts(fd) ? carry_out("read", nullptr, act) : act(false);
}

ssize_t write(int fd, const void* from, size_t size) {
  const auto act = [&](bool half) {
    return real<ssize_t(int, const void*, size_t)>("write")(fd, from,
                                                            half && size > 1 ? size / 2 : size);
  };
  return counts(fd) ? carry_out("write", nullptr, act) : act(false);
}

int fsync(int fd) {
  const auto act = [&](bool) { return real<int(int)>("fsync")(fd); };
  return counts(fd) ? carry_out("fsync", nullptr, act) : act(false);
}

int fchmod(int fd, mode_t mode) {
  const auto act = [&](bool) { return real<int(int, mode_t)>("fchmod")(fd, mode); };
  return counts(fd) ? carry_out("fchmod", nullptr, act) : act(false);
}

int flock(int fd, int how) {
  const auto act = [&](bool) { return real<int(int, int)>("flock")(fd, how); };
  return counts(fd) ? carry_out("flock", nullptr, act) : act(false);
}

int close(int fd) {
  // What cannot be closed is closed all the same, as Linux has it.
  const auto act = [&](bool) { return real<int(int)>("close")(fd); };
  if (!counts(fd)) return act(false);
  counts_fd[fd] = false;
  const int result = carry_out("close", nullptr, act);
  if (result != 0) act(false);
  return result;
}

int rename(const char* from, const char* to) {
  const auto act = [&](bool) { return real<int(const char*, const char*)>("rename")(from, to); };
  return counts(to) ? carry_out("rename", to, act) : act(false);
}

int unlink(const char* path) {
  const auto act = [&](bool) { return real<int(const char*)>("unlink")(path); };
  return counts(path) ? carry_out("unlink", path, act) : act(false);
}

int mkdir(const char* path, mode_t mode) {
  const auto act = [&](bool) { return real<int(const char*, mode_t)>("mkdir")(path, mode); };
  return counts(path) ? carry_out("mkdir", path, act) : act(false);
}

int stat(const char* path, struct stat* info) {
  const auto act = [&](bool) { return real<int(const char*, struct stat*)>("stat")(path, info); };
  return counts(path) ? carry_out("stat", path, act) : act(false);
}

int fstat(int fd, struct stat* info) {
  const auto act = [&](bool) { return real<int(int, struct stat*)>("fstat")(fd, info); };
  return counts(fd) ? carry_out("fstat", nullptr, act) : act(false);
}

int faccessat(int folder, const char* path, int mode, int flags) {
  const auto act = [&](bool) {
    return real<int(int, const char*, int, int)>("faccessat")(folder, path, mode, flags);
  };
  return counts(path) ? carry_out("faccessat", path, act) : act(false);
}

}  // extern "C"

// SPDX-License-Identifier: MIT
#include "desktop/window/process.h"

#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <fstream>
#include <iterator>
#include <sstream>
#include <stdexcept>
#include <thread>

#include "core/temporary_folder.h"

namespace potshadow::bench {
namespace {

constexpr double kLookAgainSeconds = 0.01;
constexpr double kPoliteSeconds = 2.0;  // from the asking to the forcing

bool redirect(const char* path, int flags, int to) {
  const int file = ::open(path, flags, 0600);
  return file >= 0 && ::dup2(file, to) == to && ::close(file) == 0;
}

std::vector<char*> pointers(std::vector<std::string>& words) {
  std::vector<char*> all;
  for (std::string& word : words) all.push_back(word.data());
  all.push_back(nullptr);
  return all;
}

}  // namespace

Process::Process(const std::vector<std::string>& words, const ProcessWishes& wishes) {
  if (words.empty()) throw std::runtime_error("no program was named");
  const auto found = program_in_path(words.front());
  if (!found) throw std::runtime_error("there is no program '" + words.front() + "'");
  // Everything the child needs is made before it exists.
  const std::string program = found->string();
  std::vector<std::string> kept = words;
  std::vector<std::string> settings = wishes.environment;
  const std::vector<char*> argv = pointers(kept);
  const std::vector<char*> environment = pointers(settings);
  const std::string place = wishes.folder.string();
  const std::string out = wishes.out.empty() ? "/dev/null" : wishes.out.string();
  const std::string err = wishes.err.empty() ? "/dev/null" : wishes.err.string();
  const pid_t parent = ::getpid();

  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("cannot start a process");
  if (child == 0) {
    constexpr int kWrite = O_WRONLY | O_CREAT | O_TRUNC;
    bool ready = ::prctl(PR_SET_PDEATHSIG, SIGKILL) == 0 && ::getppid() == parent;
    ready = ready && (place.empty() || ::chdir(place.c_str()) == 0);
    ready = ready && redirect("/dev/null", O_RDONLY, STDIN_FILENO);
    ready = ready && redirect(out.c_str(), kWrite, STDOUT_FILENO);
    ready = ready && redirect(err.c_str(), kWrite, STDERR_FILENO);
    if (ready) ::execve(program.c_str(), argv.data(), environment.data());
    ::_exit(127);
  }
  id_ = child;
}

Process::~Process() {
  if (ended()) return;
  signal(SIGTERM);
  if (wait(kPoliteSeconds)) return;
  signal(SIGKILL);
  wait(kPoliteSeconds);
}

std::optional<int> Process::ended() {
  if (ended_) return ended_;
  int status = 0;
  const pid_t result = ::waitpid(id_, &status, WNOHANG);
  if (result == 0 || (result < 0 && errno == EINTR)) return std::nullopt;
  if (result < 0) throw std::runtime_error("lost a process");
  ended_ = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return ended_;
}

std::optional<int> Process::wait(double seconds) {
  const auto start = std::chrono::steady_clock::now();
  while (!ended()) {
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start;
    if (passed.count() > seconds) return std::nullopt;
    sleep_seconds(kLookAgainSeconds);
  }
  return ended_;
}

void Process::signal(int number) {
  if (!ended()) ::kill(id_, number);
}

ToolRun run_tool(const std::vector<std::string>& words, const std::vector<std::string>& environment,
                 double seconds) {
  const TemporaryFolder caught;
  const std::filesystem::path out = caught.path() / "out";
  const std::filesystem::path err = caught.path() / "err";
  Process process(words, {.environment = environment, .out = out, .err = err});
  const std::optional<int> code = process.wait(seconds);
  if (!code) throw std::runtime_error("'" + words.front() + "' does not end");
  return {*code, file_content(out), file_content(err)};
}

std::optional<std::filesystem::path> program_in_path(const std::string& name) {
  if (name.find('/') != std::string::npos) {
    return ::access(name.c_str(), X_OK) == 0 ? std::optional<std::filesystem::path>(name)
                                             : std::nullopt;
  }
  const char* path = ::getenv("PATH");
  std::istringstream folders(path == nullptr ? "" : path);
  for (std::string folder; std::getline(folders, folder, ':');) {
    const std::filesystem::path file = std::filesystem::path(folder) / name;
    if (!folder.empty() && ::access(file.c_str(), X_OK) == 0) return file;
  }
  return std::nullopt;
}

std::string file_content(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

void sleep_seconds(double seconds) {
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
}

}  // namespace potshadow::bench

// SPDX-License-Identifier: MIT
#include "desktop/window/dialogue_tool.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstdlib>
#include <system_error>
#include <utility>

#include "desktop/session/latest_job.h"

extern char** environ;

namespace potshadow {
namespace {

constexpr int kLookMilliseconds = 50;            // how often the wish to stop is looked at
constexpr std::size_t kMostBytes = 64UL * 1024;  // a path is at most 4096 bytes long

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  ~Descriptor() { close(); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int get() const { return fd_; }
  void close() {
    if (fd_ >= 0) ::close(std::exchange(fd_, -1));
  }

 private:
  int fd_;
};

class SpawnActions {
 public:
  SpawnActions() { posix_spawn_file_actions_init(&actions_); }
  ~SpawnActions() { posix_spawn_file_actions_destroy(&actions_); }
  SpawnActions(const SpawnActions&) = delete;
  SpawnActions& operator=(const SpawnActions&) = delete;
  posix_spawn_file_actions_t* get() { return &actions_; }

 private:
  posix_spawn_file_actions_t actions_{};
};

DialogueOutcome failed(int error) {
  return {
      std::nullopt,
      Problem{Code::kCannotBeAnswered, "The desktop's own dialogue could not be opened.",
              "Choose the file in this window instead.", std::generic_category().message(error)}};
}

// Waits for the end of the process, however it comes.
int wait_for(pid_t process) {
  int status = 0;
  while (::waitpid(process, &status, 0) < 0 && errno == EINTR) {
  }
  return status;
}

std::string pattern_list(const std::vector<std::string>& endings) {
  std::string list;
  for (const std::string& ending : endings) {
    std::string large;
    for (const char c : ending) {
      large += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    }
    for (const std::string& form : {ending, large}) list += (list.empty() ? "*" : " *") + form;
  }
  return list.empty() ? "*" : list;
}

}  // namespace

std::optional<FoundDialogue> find_dialogue(const std::string& path) {
  const std::array<std::pair<DialogueProgram, std::string>, 2> programs{
      {{DialogueProgram::kZenity, "zenity"}, {DialogueProgram::kKdialog, "kdialog"}}};
  for (const auto& [program, name] : programs) {
    std::size_t from = 0;
    while (from <= path.size()) {
      const std::size_t to = std::min(path.find(':', from), path.size());
      const std::filesystem::path folder(path.substr(from, to - from));
      from = to + 1;
      if (!folder.is_absolute()) continue;
      const std::filesystem::path file = folder / name;
      std::error_code error;
      if (std::filesystem::is_regular_file(file, error) && ::access(file.c_str(), X_OK) == 0) {
        return FoundDialogue{program, file};
      }
    }
  }
  return std::nullopt;
}

bool dialogue_tool_exists() {
  const char* const path = std::getenv("PATH");
  return path != nullptr && find_dialogue(path).has_value();
}

std::vector<std::string> dialogue_arguments(const FoundDialogue& tool, const DialogueWish& wish) {
  const bool save = wish.kind == DialogueKind::kSave;
  std::error_code error;
  const bool folder = std::filesystem::is_directory(wish.start, error);
  if (tool.program == DialogueProgram::kKdialog) {
    std::vector<std::string> arguments{tool.file.string(), "--title", wish.title,
                                       save ? "--getsavefilename" : "--getopenfilename"};
    arguments.push_back(wish.start.empty() ? "." : wish.start.string());
    arguments.push_back(pattern_list(wish.endings) + "|" + wish.filter_words);
    return arguments;
  }
  std::vector<std::string> arguments{tool.file.string(), "--file-selection",
                                     "--title=" + wish.title};
  if (save) arguments.insert(arguments.end(), {"--save", "--confirm-overwrite"});
  // A folder is only taken for one with a stroke at its end.
  if (!wish.start.empty()) {
    arguments.push_back("--filename=" + wish.start.string() + (folder ? "/" : ""));
  }
  if (!wish.endings.empty()) {
    arguments.push_back("--file-filter=" + wish.filter_words + " | " + pattern_list(wish.endings));
  }
  return arguments;
}

DialogueOutcome run_dialogue(const FoundDialogue& tool, const DialogueWish& wish,
                             std::stop_token stop) {
  std::array<int, 2> ends{};
  if (::pipe2(ends.data(), O_CLOEXEC) != 0) return failed(errno);
  Descriptor reading(ends[0]);
  Descriptor writing(ends[1]);
  SpawnActions actions;
  posix_spawn_file_actions_adddup2(actions.get(), writing.get(), STDOUT_FILENO);
  posix_spawn_file_actions_addopen(actions.get(), STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_addopen(actions.get(), STDERR_FILENO, "/dev/null", O_WRONLY, 0);
  std::vector<std::string> arguments = dialogue_arguments(tool, wish);
  std::vector<char*> pointers;
  for (std::string& argument : arguments) pointers.push_back(argument.data());
  pointers.push_back(nullptr);
  pid_t process = 0;
  const int error =
      ::posix_spawn(&process, tool.file.c_str(), actions.get(), nullptr, pointers.data(), environ);
  if (error != 0) return failed(error);
  writing.close();

  std::string said;
  bool stopped = false;
  while (true) {
    if (stop.stop_requested() && !stopped) {
      ::kill(process, SIGTERM);
      stopped = true;
      break;
    }
    pollfd waiting{reading.get(), POLLIN, 0};
    const int ready = ::poll(&waiting, 1, kLookMilliseconds);
    if (ready < 0 && errno != EINTR) break;
    if (ready <= 0) continue;
    std::array<char, 4096> bytes{};
    const ssize_t count = ::read(reading.get(), bytes.data(), bytes.size());
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) break;
    if (said.size() < kMostBytes) said.append(bytes.data(), static_cast<std::size_t>(count));
  }
  const int status = wait_for(process);
  if (stopped || !WIFEXITED(status)) return {};
  constexpr int kCancelled = 1;  // of both tools
  if (WEXITSTATUS(status) == kCancelled) return {};
  if (WEXITSTATUS(status) != 0) return failed(ECHILD);
  while (!said.empty() && (said.back() == '\n' || said.back() == '\r')) said.pop_back();
  if (said.empty()) return {};
  return {std::filesystem::path(said), std::nullopt};
}

struct DialogueTool::Inside {
  Inside(FoundDialogue found, std::function<void()> wake)
      : tool(std::move(found)), job([this, wake = std::move(wake)] {
          news = true;
          wake();
        }) {}
  std::atomic<bool> news = false;  // before the job, whose thread sets it
  FoundDialogue tool;
  LatestJob<DialogueOutcome> job;
};

DialogueTool::DialogueTool(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
DialogueTool::~DialogueTool() = default;

std::shared_ptr<DialogueTool> DialogueTool::create(std::function<void()> wake) {
  const char* const path = std::getenv("PATH");
  if (path == nullptr) return nullptr;
  const std::optional<FoundDialogue> found = find_dialogue(path);
  if (!found) return nullptr;
  return std::shared_ptr<DialogueTool>(
      new DialogueTool(std::unique_ptr<Inside>(new Inside(*found, std::move(wake)))));
}

void DialogueTool::ask(DialogueWish wish) {
  inside_->job.request([tool = inside_->tool, wish = std::move(wish)](std::stop_token stop) {
    return run_dialogue(tool, wish, stop);
  });
}

void DialogueTool::give_up() {
  inside_->job.cancel();
  inside_->news = false;
}
bool DialogueTool::has_news() const { return inside_->news; }
bool DialogueTool::open() const { return inside_->job.busy(); }
std::optional<DialogueOutcome> DialogueTool::take() {
  inside_->news = false;
  return inside_->job.take();
}

}  // namespace potshadow

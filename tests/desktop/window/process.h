// SPDX-License-Identifier: MIT
// Starts other programs for the window's tests, and makes sure that none outlives its test.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace potshadow::bench {

struct ProcessWishes {
  std::vector<std::string> environment{};  // all of it, "NAME=value"
  std::filesystem::path folder{};          // run there; empty: here
  std::filesystem::path out{};             // standard output goes there; empty: nowhere
  std::filesystem::path err{};             // standard error likewise
};

// A running program. Invariant: it is gone once this object is gone, even if the test program is
// killed. Throws std::runtime_error where it cannot be started.
class Process {
 public:
  // `words` are the program, by path or as found in PATH, and its arguments.
  Process(const std::vector<std::string>& words, const ProcessWishes& wishes);
  ~Process();
  Process(const Process&) = delete;
  Process& operator=(const Process&) = delete;

  pid_t id() const { return id_; }
  // Returns how it ended: its exit code, or 128 and the signal's number; nothing while it runs.
  std::optional<int> ended();
  // As ended(), waiting at most `seconds`; nothing where it still runs then.
  std::optional<int> wait(double seconds);
  void signal(int number);

 private:
  pid_t id_ = -1;
  std::optional<int> ended_;
};

struct ToolRun {
  int exit_code = 0;
  std::string out;
  std::string err;
};

// Returns what a program printed that ends by itself within `seconds`. Throws std::runtime_error
// where it does not, or cannot be started.
ToolRun run_tool(const std::vector<std::string>& words, const std::vector<std::string>& environment,
                 double seconds = 60.0);

// Returns where PATH finds the program, or nothing.
std::optional<std::filesystem::path> program_in_path(const std::string& name);

// Returns the file's bytes, empty where it cannot be read.
std::string file_content(const std::filesystem::path& path);

void sleep_seconds(double seconds);

}  // namespace potshadow::bench

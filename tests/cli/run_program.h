// SPDX-License-Identifier: MIT
// Runs the real program in a folder and catches what it prints.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace potshadow {

struct RunWishes {
  std::vector<std::string> environment{};  // "NAME=value", added to this process's own
  std::filesystem::path program{};         // in place of POTSHADOW_PROGRAM
  std::string standard_output{};           // a file to send it to, in place of catching it
  unsigned long most_file_bytes = 0;       // the program can write no longer file; 0 sets no limit
};

struct Ran {
  int exit_code = -1;  // -1 if the program did not end by itself
  std::string out;
  std::string err;
};

// Returns the bytes of a file; none where it cannot be read.
std::string content(const std::filesystem::path& path);

// Returns what the program (POTSHADOW_PROGRAM) did, run in `folder` with `arguments`. Throws if it
// cannot be run.
Ran run_program(const std::filesystem::path& folder, const std::vector<std::string>& arguments,
                const RunWishes& wishes = {});

}  // namespace potshadow

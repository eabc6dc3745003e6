// SPDX-License-Identifier: MIT
#include <unistd.h>

#include <array>
#include <cerrno>
#include <filesystem>
#include <system_error>
#include <vector>

#include "cli/commands.h"

namespace potshadow {
namespace {

constexpr const char* kWindowProgram = "potshadow-window";

// Returns the window's program: beside this one, where a build and a package for one folder put it,
// or where programs lie that are not started by name. Empty if there is none.
// Source: Filesystem Hierarchy Standard 3.0, 4.7 (/usr/libexec).
std::filesystem::path window_program() {
  std::error_code error;
  const std::filesystem::path own = std::filesystem::read_symlink("/proc/self/exe", error);
  if (error) return {};
  const std::filesystem::path folder = own.parent_path();
  const std::array<std::filesystem::path, 2> places{
      folder / kWindowProgram, folder.parent_path() / "libexec" / "potshadow" / kWindowProgram};
  for (const std::filesystem::path& place : places) {
    if (std::filesystem::is_regular_file(place, error) && ::access(place.c_str(), X_OK) == 0) {
      return place;
    }
  }
  return {};
}

}  // namespace

ExitCode run_window(const WindowOptions& options) {
  std::string program = window_program().string();
  const std::string instead = "use 'potshadow measure' and 'potshadow sheet' without a window.";
  if (program.empty()) {
    print_problem("",
                  std::string("The window's program, '") + kWindowProgram +
                      "', is not where this program is.",
                  "Install it there, or " + instead);
    return ExitCode::kWrongInput;
  }
  std::string file = options.file;
  std::vector<char*> words{program.data()};
  if (!file.empty()) words.push_back(file.data());
  words.push_back(nullptr);
  ::execv(program.c_str(), words.data());
  print_problem("",
                "The window's program '" + program +
                    "' could not be started: " + std::generic_category().message(errno) + ".",
                "Install it again, or " + instead);
  return ExitCode::kWrongInput;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "cli/sibling_program.h"

#include <unistd.h>

#include <array>
#include <cerrno>
#include <system_error>

namespace potshadow {

std::filesystem::path sibling_program(const std::string& name) {
  std::error_code error;
  const std::filesystem::path own = std::filesystem::read_symlink("/proc/self/exe", error);
  if (error) return {};
  const std::filesystem::path folder = own.parent_path();
  const std::array<std::filesystem::path, 2> places{
      folder / name, folder.parent_path() / "libexec" / "potshadow" / name};
  for (const std::filesystem::path& place : places) {
    if (std::filesystem::is_regular_file(place, error) && ::access(place.c_str(), X_OK) == 0) {
      return place;
    }
  }
  return {};
}

std::string become_program(const std::filesystem::path& program,
                           const std::vector<std::string>& arguments) {
  std::string name = program.string();
  std::vector<std::string> copies = arguments;
  std::vector<char*> words{name.data()};
  for (std::string& copy : copies) words.push_back(copy.data());
  words.push_back(nullptr);
  ::execv(name.c_str(), words.data());
  return std::generic_category().message(errno);
}

ExitCode become_picture_program(const std::vector<std::string>& arguments) {
  const std::string name = "potshadow-pictures";
  const std::string program = sibling_program(name).string();
  if (program.empty()) {
    print_problem("",
                  "The program that reads pictures, '" + name + "', is not where this program is.",
                  "Install it there.");
    return ExitCode::kWrongInput;
  }
  const std::string why = become_program(program, arguments);
  print_problem("", "The program '" + program + "' could not be started: " + why + ".",
                "Install it again.");
  return ExitCode::kWrongInput;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include <string>
#include <vector>

#include "cli/commands.h"
#include "cli/sibling_program.h"

namespace potshadow {
namespace {

constexpr const char* kWindowProgram = "potshadow-window";

}  // namespace

ExitCode run_window(const WindowOptions& options) {
  const std::string program = sibling_program(kWindowProgram).string();
  const std::string instead = "use 'potshadow measure' and 'potshadow sheet' without a window.";
  if (program.empty()) {
    print_problem("",
                  std::string("The window's program, '") + kWindowProgram +
                      "', is not where this program is.",
                  "Install it there, or " + instead);
    return ExitCode::kWrongInput;
  }
  std::vector<std::string> arguments;
  if (!options.file.empty()) arguments.push_back(options.file);
  const std::string why = become_program(program, arguments);
  print_problem("", "The window's program '" + program + "' could not be started: " + why + ".",
                "Install it again, or " + instead);
  return ExitCode::kWrongInput;
}

}  // namespace potshadow

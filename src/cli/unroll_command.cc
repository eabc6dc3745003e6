// SPDX-License-Identifier: MIT
#include "cli/commands.h"
#include "cli/sibling_program.h"

namespace potshadow {

ExitCode run_unroll(const UnrollOptions& options) {
  std::vector<std::string> arguments{"unroll"};
  arguments.insert(arguments.end(), options.arguments.begin(), options.arguments.end());
  return become_picture_program(arguments);
}

}  // namespace potshadow

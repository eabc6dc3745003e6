// SPDX-License-Identifier: MIT
// Completion scripts for shells, made of the program's own help texts.
#pragma once

#include <string>
#include <vector>

#include "cli/help_layout.h"

namespace potshadow {

// Each returns a whole script that completes commands, their options, and what an option may be;
// elsewhere files, projects first. `all` comes of all_help().
std::string bash_completion(const std::vector<CommandHelp>& all);
std::string zsh_completion(const std::vector<CommandHelp>& all);
std::string fish_completion(const std::vector<CommandHelp>& all);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The manual page, potshadow(1), made of the program's own help texts.
#pragma once

#include <string>
#include <vector>

#include "cli/help_layout.h"

namespace potshadow {

// Returns the page in the language of man(7), in UTF-8. `all` comes of all_help().
std::string manual_page(const std::vector<CommandHelp>& all, const std::string& version);

}  // namespace potshadow

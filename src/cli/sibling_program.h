// SPDX-License-Identifier: MIT
// Other programs of this project: where they lie, and becoming one of them.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "cli/console.h"

namespace potshadow {

// Returns the program of that name: beside this one, where a build and a package for one folder put
// it, or where programs lie that are not started by name. Empty if there is none.
// Source: Filesystem Hierarchy Standard 3.0, 4.7 (/usr/libexec).
std::filesystem::path sibling_program(const std::string& name);

// Becomes that program with those arguments; returns only where it cannot be started, and then why.
std::string become_program(const std::filesystem::path& program,
                           const std::vector<std::string>& arguments);

// Becomes the program that reads pixels, which takes libraries that are slow to load, for the
// command in the first argument; returns only where it cannot be started, after saying so.
ExitCode become_picture_program(const std::vector<std::string>& arguments);

}  // namespace potshadow

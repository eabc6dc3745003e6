// SPDX-License-Identifier: MIT
// Texts and files that leave the program: standard output, errors, exit codes, safe targets.
#pragma once

#include <chrono>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "project/one_line.h"

namespace potshadow {

// What the program returns to the shell.
enum class ExitCode { kDone = 0, kCannotBeAnswered = 1, kWrongInput = 2 };

// Returns the exit code that belongs to a problem.
ExitCode exit_code_of(const Problem& problem);

// Returns the worse of two.
ExitCode worse(ExitCode a, ExitCode b);

// Prints "potshadow: what" and "next" to standard error, a line each. `about` (may be empty) names
// the project it is about.
void print_problem(std::string_view about, std::string_view what, std::string_view next);
void print_problem(std::string_view about, const Problem& problem);

// Writes a text to standard output. Fails with kFileUnwritable (a full disk, a closed pipe).
Result<Done> print_text(std::string_view text);

// Writes an output file whole, or to standard output where `file` is "-". Fails with
// kFileUnwritable, and with kBadValue, before anything is touched, where `file` is one of the
// `inputs`.
Result<Done> write_output(const std::string& file, std::string_view bytes,
                          const std::vector<std::filesystem::path>& inputs);

// Returns the time to print on sheets: SOURCE_DATE_EPOCH where it is set, so that the same input
// can give the same bytes, else the clock's. Source: reproducible-builds.org,
// SOURCE_DATE_EPOCH 1.1.
std::chrono::system_clock::time_point time_for_sheets();

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "cli/console.h"

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <system_error>

#include "cli/options.h"
#include "core/files.h"

namespace potshadow {

ExitCode exit_code_of(const Problem& problem) {
  switch (problem.code) {
    case Code::kBadMarks:
    case Code::kTooFewMarks:
    case Code::kCannotBeAnswered:
      return ExitCode::kCannotBeAnswered;
    case Code::kFileMissing:
    case Code::kFileUnreadable:
    case Code::kFileUnwritable:
    case Code::kFileTooLarge:
    case Code::kBadFormat:
    case Code::kNewerVersion:
    case Code::kBadValue:
      return ExitCode::kWrongInput;
  }
  return ExitCode::kWrongInput;
}

ExitCode worse(ExitCode a, ExitCode b) { return std::max(a, b); }

void print_problem(std::string_view about, std::string_view what, std::string_view next) {
  std::string text = "potshadow: ";
  if (!about.empty()) text += std::string(about) + ": ";
  text = on_one_line(text + std::string(what)) + "\n" + on_one_line(next) + "\n";
  std::fwrite(text.data(), 1, text.size(), stderr);
}

void print_problem(std::string_view about, const Problem& problem) {
  print_problem(about, problem.what, problem.next);
}

Result<Done> print_text(std::string_view text) {
  errno = 0;
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (written && std::fflush(stdout) == 0) return Done{};
  const std::string reason = std::generic_category().message(errno);
  return Problem{Code::kFileUnwritable, "Standard output could not be written: " + reason + ".",
                 "Check where it goes to, or write to a file instead.", ""};
}

Result<Done> write_output(const std::string& file, std::string_view bytes,
                          const std::vector<std::filesystem::path>& inputs) {
  if (file == kStandardOutput) return print_text(bytes);
  for (const std::filesystem::path& input : inputs) {
    std::error_code ignored;
    if (!std::filesystem::equivalent(file, input, ignored)) continue;
    return Problem{Code::kBadValue, "The output '" + file + "' is also an input of this command.",
                   "Choose another name for the output.", ""};
  }
  return write_file_whole(file, bytes);
}

std::chrono::system_clock::time_point time_for_sheets() {
  const char* const variable = std::getenv("SOURCE_DATE_EPOCH");
  if (variable != nullptr) {
    const std::string_view text = variable;
    constexpr long long kMostSeconds = 253'402'300'799;  // the end of the year 9999
    long long seconds = 0;
    const auto [rest, error] = std::from_chars(text.data(), text.data() + text.size(), seconds);
    if (error == std::errc{} && rest == text.data() + text.size() && seconds >= 0 &&
        seconds <= kMostSeconds) {
      return std::chrono::system_clock::time_point(std::chrono::seconds(seconds));
    }
  }
  return std::chrono::system_clock::now();
}

}  // namespace potshadow

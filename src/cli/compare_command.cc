// SPDX-License-Identifier: MIT
#include "cli/commands.h"
#include "cli/compare_work.h"
#include "cli/series_work.h"
#include "cli/sibling_program.h"

namespace potshadow {

ExitCode run_compare(const CompareOptions& options, std::chrono::system_clock::time_point now) {
  if (options.series) return series_and_write(options, now);
  if (options.sheet_file.empty() && options.over_file.empty()) {
    return compare_and_write(options, now, {});
  }
  std::vector<std::string> arguments{"compare"};
  arguments.insert(arguments.end(), options.arguments.begin(), options.arguments.end());
  return become_picture_program(arguments);
}

}  // namespace potshadow

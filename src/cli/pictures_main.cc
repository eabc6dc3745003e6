// SPDX-License-Identifier: MIT
// The program that reads pixels; 'potshadow calibrate', 'trace' and 'unroll' become it.
#include <csignal>
#include <exception>
#include <new>
#include <string>
#include <variant>
#include <vector>

#include "cli/calibrate_pictures.h"
#include "cli/compare_pictures.h"
#include "cli/trace_photograph.h"
#include "cli/unroll_pictures.h"
#include "core/freed_memory.h"
#include "project/sheet_request.h"

int main(int argc, char** argv) {
  using namespace potshadow;
  // A file size limit is then an error that can be reported, not a sudden end.
  std::signal(SIGXFSZ, SIG_IGN);
  keep_freed_memory();
  try {
    const Command command = parse_arguments({argv + (argc > 0 ? 1 : 0), argv + argc});
    const auto* calibrate = std::get_if<CalibrateOptions>(&command);
    if (calibrate != nullptr && calibrate->board_file.empty()) {
      return static_cast<int>(
          calibrate_pictures(*calibrate, iso_date(std::chrono::system_clock::now())));
    }
    if (const auto* trace = std::get_if<TraceOptions>(&command)) {
      return static_cast<int>(trace_photograph(*trace));
    }
    if (const auto* compare = std::get_if<CompareOptions>(&command)) {
      return static_cast<int>(compare_pictures(*compare, time_for_sheets()));
    }
    if (const auto* unroll = std::get_if<UnrollOptions>(&command)) {
      return static_cast<int>(unroll_pictures(*unroll, time_for_sheets()));
    }
    print_problem(
        "", "This program is a part of 'potshadow calibrate', 'compare', 'trace' and 'unroll'.",
        "Run 'potshadow --help' to see how they are used.");
  } catch (const std::bad_alloc&) {
    print_problem("", "There was not enough memory.", "Close other programs and try again.");
  } catch (const std::exception& error) {
    print_problem("", std::string("Something unforeseen went wrong (") + error.what() + ").",
                  "Please report this with the pictures that caused it.");
  }
  return static_cast<int>(ExitCode::kWrongInput);
}

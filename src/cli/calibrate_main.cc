// SPDX-License-Identifier: MIT
// The program that reads pictures of the board; 'potshadow calibrate' becomes it.
#include <csignal>
#include <exception>
#include <new>
#include <string>
#include <variant>
#include <vector>

#include "cli/calibrate_pictures.h"
#include "project/sheet_request.h"

int main(int argc, char** argv) {
  using namespace potshadow;
  // A file size limit is then an error that can be reported, not a sudden end.
  std::signal(SIGXFSZ, SIG_IGN);
  try {
    std::vector<std::string> arguments{"calibrate"};
    arguments.insert(arguments.end(), argv + (argc > 0 ? 1 : 0), argv + argc);
    const Command command = parse_arguments(arguments);
    const auto* options = std::get_if<CalibrateOptions>(&command);
    if (options != nullptr && options->board_file.empty()) {
      return static_cast<int>(
          calibrate_pictures(*options, iso_date(std::chrono::system_clock::now())));
    }
    print_problem("", "This program is a part of 'potshadow calibrate'.",
                  "Run 'potshadow calibrate --help' to see how it is used.");
  } catch (const std::bad_alloc&) {
    print_problem("", "There was not enough memory.", "Close other programs and try again.");
  } catch (const std::exception& error) {
    print_problem("", std::string("Something unforeseen went wrong (") + error.what() + ").",
                  "Please report this with the pictures that caused it.");
  }
  return static_cast<int>(ExitCode::kWrongInput);
}

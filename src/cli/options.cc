// SPDX-License-Identifier: MIT
#include "cli/options.h"

#include <filesystem>
#include <system_error>

namespace potshadow {
namespace {

constexpr const char* kProgramHelp =
    R"(Potshadow finds the sizes and the profile of a vessel from a photograph in which something
of known size stands beside it, and prints a template to make the vessel again.

Usage: potshadow [FILE]
       potshadow COMMAND ...

  potshadow [FILE]  opens the window; FILE is a project (.potshadow) or a photograph to open in it

Commands:
  visit     print a page to take along to the museum, with a card of known size
  measure   print the sizes of one or more projects, with their uncertainty
  trace     find the vessel's outline in a photograph by itself, from a rough box
  sheet     print templates at true size, enlarged for the clay's shrinkage: profile gauge, rib,
            rings, height stick, cradle, section drawing and more
  export    write them for a laser or plotter (SVG, DXF), and the vessel as a solid (STL, OBJ)
  unroll    take the painting off the photographs, laid flat to wrap round the pot
  printer   keep what your printers make of a length, so that sheets come out true
  calibrate find a camera's focal length from pictures of a printed board
  clay      keep your clays, their test bars and how much they shrink
  plan      say how to build the vessel: cradle, coils, clay and water
  check     say whether the pot on the bench is right, while it can still be changed
  compare   hold a replica against its original, in size and in shape

Options:
  --help      show this text; 'potshadow measure --help' shows that command's own
  --version   show the program's version

Examples:
  potshadow shelf-jar.jpg
  potshadow measure shelf-jar.potshadow
  potshadow sheet shelf-jar.potshadow --output shelf-jar.pdf --shrinkage 12

Exit codes:
  0   done
  1   cannot be answered: the message says what is missing
  2   wrong usage, an input that cannot be read, or an output that cannot be written
)";

// Returns what a command's own reader found: options, a text to show, or what is wrong.
template <class Options, class Text>
Command command_of(const std::variant<Options, Text, UsageProblem>& parsed) {
  if (const auto* text = std::get_if<Text>(&parsed)) return ShowText{text->text};
  if (const auto* wrong = std::get_if<UsageProblem>(&parsed)) {
    return WrongUsage{wrong->what, wrong->next};
  }
  return std::get<Options>(parsed);
}

// Returns what a first word asks for that is neither a command nor an option known here.
Command window_command(const std::vector<std::string>& arguments, const std::string& see_help) {
  const std::string& first = arguments.front();
  if (first.starts_with("-")) return WrongUsage{"There is no option '" + first + "'.", see_help};
  const bool bare = first.find_first_of("./") == std::string::npos;
  std::error_code ignored;
  if (bare && !std::filesystem::exists(first, ignored)) {
    return WrongUsage{"'" + first + "' is neither a command nor a file.", see_help};
  }
  if (arguments.size() > 1) {
    return WrongUsage{"'" + arguments[1] + "' was not expected here.", see_help};
  }
  return WindowOptions{first};
}

}  // namespace

Command parse_arguments(const std::vector<std::string>& arguments) {
  const std::string see_help = "Run 'potshadow --help' to see what it can do.";
  if (arguments.empty()) return WindowOptions{};
  const std::string& first = arguments.front();
  if (first == "--help" || first == "-h") return ShowText{kProgramHelp};
  if (first == "--version") return ShowText{"potshadow " POTSHADOW_VERSION "\n"};
  const std::vector<std::string> rest(arguments.begin() + 1, arguments.end());
  if (first == "measure") return command_of(parse_measure_arguments(rest));
  if (first == "calibrate") return command_of(parse_calibrate_arguments(rest));
  if (first == "trace") return command_of(parse_trace_arguments(rest));
  if (first == "clay") return command_of(parse_clay_arguments(rest));
  if (first == "plan") return command_of(parse_plan_arguments(rest));
  if (first == "check") return command_of(parse_check_arguments(rest));
  if (first == "compare") return command_of(parse_compare_arguments(rest));
  if (first == "sheet") return command_of(parse_sheet_arguments(rest));
  if (first == "printer") return command_of(parse_printer_arguments(rest));
  if (first == "unroll") return command_of(parse_unroll_arguments(rest));
  if (first == "export") return command_of(parse_export_arguments(rest));
  if (first == "visit") return command_of(parse_visit_arguments(rest));
  return window_command(arguments, see_help);
}

}  // namespace potshadow

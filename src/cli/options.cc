// SPDX-License-Identifier: MIT
#include "cli/options.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <charconv>
#include <cmath>
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
  measure   print the sizes of one or more projects, with their uncertainty
  sheet     write a profile template at true size, enlarged for the clay's shrinkage

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

constexpr const char* kMeasureHelp =
    R"(Prints the sizes of the vessel in each project: height, maximum, neck, rim and base diameter,
capacity to the brim, each with the interval that holds the truth with 95 % probability; how well
the marks fit; and what limits each size most. Lines marked '!' ask you to look again.

Usage: potshadow measure PROJECT... [--units mm|cm|in] [--json FILE] [--csv FILE]

  PROJECT           a project file (.potshadow); with several, one that fails does not stop the
                    rest, and the exit code is the worst of them
  --units mm|cm|in  the unit of the printed table; inches come as decimals and to the nearest 1/16
  --json FILE       write everything that was found as JSON, in millimetres and millilitres: an
                    object with "projects", a list with one entry for each project, also when there
                    is only one
  --csv FILE        write one line for each size: project, size, value, standard deviation, lower
                    and upper end of the 95 % interval, unit
  --help            show this text

FILE '-' stands for standard output; the table is then left out. An existing FILE is replaced
whole, or stays as it was if anything fails or no project could be measured.

Examples:
  potshadow measure shelf-jar.potshadow
  potshadow measure shelf-jar.potshadow --units in
  potshadow measure *.potshadow --csv season.csv
  potshadow measure shelf-jar.potshadow --json - | less
)";

constexpr const char* kSheetHelp =
    R"(Writes a PDF with the vessel's half profile as a gauge to cut out and hold against the wet clay,
at true size on ordinary paper. It is enlarged so that the pot fires to the original's size. Print
it at 100 % and lay a ruler on the check bars before you cut.

Usage: potshadow sheet PROJECT --output FILE.pdf [--paper a4|letter] [--shrinkage PERCENT]
                       [--shrinkage-sd PERCENT] [--units mm|cm|in]

  PROJECT                 a project file (.potshadow)
  --output FILE.pdf       where the template goes; '-' stands for standard output
  --paper a4|letter       the printer's paper; a4 if not given
  --shrinkage PERCENT     total shrinkage of the clay, from wet to fired, as percent of the wet
                          length, 0 to 30; in place of the project's own. 0 gives a template at the
                          original's size
  --shrinkage-sd PERCENT  how sure that is, as a standard deviation in percentage points; 0.5 if
                          neither this nor the project says
  --units mm|cm|in        the unit of the figures on the sheet; mm if not given
  --help                  show this text

An existing FILE.pdf is replaced whole, or stays as it was if anything fails.

Examples:
  potshadow sheet shelf-jar.potshadow --output shelf-jar.pdf
  potshadow sheet shelf-jar.potshadow --output shelf-jar.pdf --shrinkage 12.5 --paper letter
  potshadow sheet shelf-jar.potshadow --output as-it-stands.pdf --shrinkage 0
)";

// What CLI11 collects: texts only, so that every complaint about a value is in our own words.
struct Texts {
  std::vector<std::string> projects;
  std::optional<std::string> units;
  std::optional<std::string> json;
  std::optional<std::string> csv;
  std::optional<std::string> output;
  std::optional<std::string> paper;
  std::optional<std::string> shrinkage;
  std::optional<std::string> shrinkage_sd;
};

struct Usage {
  std::string help;  // "potshadow measure --help"
  std::optional<WrongUsage> wrong{};

  void complain(const std::string& what, const std::string& next) {
    if (!wrong) wrong = WrongUsage{what, next};
  }
  std::string see_help() const { return "Run '" + help + "' to see how it is used."; }

  LengthUnit unit(const std::optional<std::string>& text) {
    if (!text || *text == "mm") return LengthUnit::kMm;
    if (*text == "cm") return LengthUnit::kCm;
    if (*text == "in") return LengthUnit::kInch;
    complain("The unit '" + *text + "' is not known.", "Use --units mm, --units cm or --units in.");
    return LengthUnit::kMm;
  }

  Paper paper(const std::optional<std::string>& text) {
    if (!text || *text == "a4") return Paper::kA4;
    if (*text == "letter") return Paper::kLetter;
    complain("The paper '" + *text + "' is not known.", "Use --paper a4 or --paper letter.");
    return Paper::kA4;
  }

  std::optional<double> number(const char* option, const std::optional<std::string>& text) {
    if (!text) return std::nullopt;
    double value = 0.0;
    const char* const end = text->data() + text->size();
    const auto [rest, error] = std::from_chars(text->data(), end, value);
    if (error != std::errc{} || rest != end || !std::isfinite(value)) {
      complain("The value '" + *text + "' of " + option + " is not a number.",
               "Write it with digits and a point, for example " + std::string(option) + " 12.5.");
      return std::nullopt;
    }
    return value;
  }

  // Returns a file name that was given, empty where none was.
  std::string file(const char* option, const std::optional<std::string>& text) {
    if (!text) return "";
    if (text->empty()) {
      complain(std::string("The file name after ") + option + " is empty.", see_help());
    }
    return *text;
  }

  void check_projects(const std::vector<std::string>& projects) {
    if (projects.empty()) complain("No project was named.", see_help());
    if (std::find(projects.begin(), projects.end(), "") != projects.end()) {
      complain("The name of a project is empty.", see_help());
    }
  }
};

Command measure_command(const Texts& texts, Usage usage) {
  MeasureOptions options;
  options.projects = texts.projects;
  usage.check_projects(texts.projects);
  options.json_file = usage.file("--json", texts.json);
  options.csv_file = usage.file("--csv", texts.csv);
  options.unit = usage.unit(texts.units);
  if (options.json_file == kStandardOutput && options.csv_file == kStandardOutput) {
    usage.complain("Both --json and --csv were sent to standard output.",
                   "Give one of them a file name.");
  }
  if (usage.wrong) return *usage.wrong;
  return options;
}

Command sheet_command(const Texts& texts, Usage usage) {
  SheetOptions options;
  usage.check_projects(texts.projects);
  if (texts.projects.size() > 1) {
    usage.complain("More than one project was named, and a template is made of one.",
                   "Run the command once for each project.");
  }
  if (!texts.projects.empty()) options.project = texts.projects.front();
  if (!texts.output) {
    usage.complain("It was not said where the template goes.",
                   "Add --output and the name of the file to write, for example --output jar.pdf.");
  }
  options.output_file = usage.file("--output", texts.output);
  options.paper = usage.paper(texts.paper);
  options.unit = usage.unit(texts.units);
  options.shrinkage_percent = usage.number("--shrinkage", texts.shrinkage);
  options.shrinkage_sd_percent = usage.number("--shrinkage-sd", texts.shrinkage_sd);
  if (usage.wrong) return *usage.wrong;
  return options;
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

// Returns the text after the last ": ", where CLI11 puts what it complains about.
std::string after_colon(const std::string& text) {
  const std::size_t colon = text.rfind(": ");
  return colon == std::string::npos ? text : text.substr(colon + 2);
}

}  // namespace

Command parse_arguments(const std::vector<std::string>& arguments) {
  const std::string see_help = "Run 'potshadow --help' to see what it can do.";
  if (arguments.empty()) return WindowOptions{};
  const std::string& first = arguments.front();
  if (first == "--help" || first == "-h") return ShowText{kProgramHelp};
  if (first == "--version") return ShowText{"potshadow " POTSHADOW_VERSION "\n"};
  if (first != "measure" && first != "sheet") return window_command(arguments, see_help);

  const bool measure = first == "measure";
  const Usage usage{"potshadow " + first + " --help"};
  CLI::App app;
  Texts texts;
  app.add_option("PROJECT", texts.projects);
  app.add_option("--units", texts.units);
  if (measure) {
    app.add_option("--json", texts.json);
    app.add_option("--csv", texts.csv);
  } else {
    app.add_option("--output", texts.output);
    app.add_option("--paper", texts.paper);
    app.add_option("--shrinkage", texts.shrinkage);
    app.add_option("--shrinkage-sd", texts.shrinkage_sd);
  }
  try {
    // CLI11 takes the arguments last first.
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend() - 1));
  } catch (const CLI::CallForHelp&) {
    return ShowText{measure ? kMeasureHelp : kSheetHelp};
  } catch (const CLI::ExtrasError& error) {
    return WrongUsage{"'" + after_colon(error.what()) + "' was not expected here.",
                      usage.see_help()};
  } catch (const CLI::ArgumentMismatch& error) {
    const std::string text = error.what();
    return WrongUsage{"The option " + text.substr(0, text.find(':')) +
                          " takes one value, and it was given none or several.",
                      usage.see_help()};
  } catch (const CLI::Error& error) {
    return WrongUsage{
        "The command line could not be understood (" + std::string(error.what()) + ").",
        usage.see_help()};
  }
  return measure ? measure_command(texts, usage) : sheet_command(texts, usage);
}

}  // namespace potshadow

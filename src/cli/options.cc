// SPDX-License-Identifier: MIT
#include "cli/options.h"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <limits>
#include <system_error>
#include <tuple>
#include <utility>

#include "cli/typed_options.h"
#include "estimate/monte_carlo.h"

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

constexpr const char* kMeasureHelp =
    R"(Prints the sizes of the vessel in each project: height, maximum, neck, rim and base diameter,
capacity to the brim, each with the interval that holds the truth with 95 % probability; how well
the marks fit; and what limits each size most. Lines marked '!' ask you to look again. All
photographs of a project that carry marks on the vessel count together. Where nothing says how big
anything is, the proportions are printed alone; a guessed size counts, and is said to be a guess.

Usage: potshadow measure PROJECT... [--units mm|cm|in] [--json FILE] [--csv FILE]
                         [--monte-carlo N [--seed S]] [--jobs N]

  PROJECT           a project file (.potshadow); with several, one that fails does not stop the
                    rest, and the exit code is the worst of them
  --units mm|cm|in  the unit of the printed table; inches come as decimals and to the nearest 1/16
  --json FILE       write everything that was found as JSON, in millimetres and millilitres: an
                    object with "projects", a list with one entry for each project, also when there
                    is only one
  --csv FILE        write one line for each size: project, size, value, standard deviation, lower
                    and upper end of the 95 % interval, unit, and whether the scale is known or a
                    guess; one line for each proportion where there is no scale
  --monte-carlo N   check the intervals: move every mark and everything else that is uncertain by
                    chance, measure again, N times (100 to 100000; 1000 is a good number). Where
                    that interval is more than a fifth wider or narrower, it is the one given
  --seed S          another series of chances, a whole number; 1 if not given
  --jobs N          how many projects, or chances, to work out at once, 1 to 256; as the machine
                    has cores if not given. It changes nothing but the time
  --help            show this text

FILE '-' stands for standard output; the table is then left out. An existing FILE is replaced
whole, or stays as it was if anything fails or no project could be measured.

Examples:
  potshadow measure shelf-jar.potshadow
  potshadow measure shelf-jar.potshadow --units in
  potshadow measure *.potshadow --csv season.csv
  potshadow measure shelf-jar.potshadow --json - | less
  potshadow measure shelf-jar.potshadow --monte-carlo 1000
)";

constexpr const char* kCalibrateHelp =
    R"(Finds the focal length of a camera, and how its lens bends the picture, from pictures of a
printed board. Photographs by that camera, with the same lens at the same zoom, then give narrower
intervals. Print the board first, and stick it flat on glass or a stiff board.

Usage: potshadow calibrate --board FILE.pdf [--paper a4|letter]
       potshadow calibrate PICTURE... [--square MM] [--inner COLSxROWS] [--save]

  --board FILE.pdf    write the board to print, at true size on one page; '-' stands for standard
                      output
  --paper a4|letter   the printer's paper; a4 if not given
  PICTURE             10 to 20 pictures of the board, tilted by 30 to 45 degrees to every side,
                      whole and sharp, the camera the same way up each time; those without the board
                      are left out
  --square MM         the side of a square as it was printed, in millimetres; 24 if not given
  --inner COLSxROWS   corners inside the board, where four squares meet; 9x6 if not given
  --save              keep what was found for the photographs that this camera, lens and zoom take:
                      'measure' and 'sheet' then use it, unless the project gives a focal length or
                      the photograph is cropped
  --help              show this text

Examples:
  potshadow calibrate --board board.pdf
  potshadow calibrate board-*.jpg --square 24 --save
)";

constexpr const char* kTraceHelp =
    R"(Finds the edge of the vessel in a photograph: its outline on both sides, the outer edge of the
rim, and the front of the foot, each mark with its own precision. What is not clear is left out.
The marks go into the project. Marks made by hand stay, and count where they differ.

Usage: potshadow trace PROJECT [--photo N] [--box X,Y,X,Y] [--vessel X,Y,...]...
                       [--not-vessel X,Y,...]... [--references] [--picture FILE.png]
       potshadow trace PHOTOGRAPH --project FILE.potshadow --box X,Y,X,Y [...]

  PROJECT                   a project file (.potshadow), which is rewritten whole
  PHOTOGRAPH                a picture that has no project yet
  --project FILE.potshadow  the project to make of it; there must be none of that name
  --photo N                 which photograph of the project, from 1; 1 if not given
  --box X,Y,X,Y             two opposite corners of a rough box round the vessel, in pixels of the
                            upright photograph; where an earlier trace has one it may be left out
  --vessel X,Y,...          a line that lies on the vessel: two places or more, in pixels
  --not-vessel X,Y,...      a line on what is not the vessel: a neighbour in front, a shadow, a
                            handle. Either may be given more than once. The lines are kept; new
                            ones take the place of an earlier trace's
  --references              also set the marked corners of cards, and the points round coins, onto
                            their edges, from clicks up to 1.5 % of the photograph's longer side off
  --picture FILE.png        write the photograph with what was found drawn over it
  --help                    show this text

Examples:
  potshadow trace shelf-jar.potshadow --box 1200,600,2900,2500
  potshadow trace shelf-jar.potshadow --picture outline.png
  potshadow trace shelf-jar.potshadow --not-vessel 1300,1500,1350,2200
  potshadow trace case.jpg --project case.potshadow --box 1200,600,2900,2500
)";

// What CLI11 collects: texts only, so that every complaint about a value is in our own words.
struct Texts {
  std::vector<std::string> projects;
  std::optional<std::string> units;
  std::optional<std::string> json;
  std::optional<std::string> csv;
  std::optional<std::string> monte_carlo;
  std::optional<std::string> seed;
  std::optional<std::string> jobs;
  std::optional<std::string> paper;
  std::optional<std::string> board;
  std::optional<std::string> square;
  std::optional<std::string> inner;
  std::optional<std::string> project;
  std::optional<std::string> photo;
  std::optional<std::string> box;
  std::vector<std::string> vessel;
  std::vector<std::string> not_vessel;
  std::optional<std::string> picture;
  bool save = false;
  bool references = false;
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
    OptionReader reading(see_help());
    const Paper paper = reading.paper(text);
    if (reading.wrong()) complain(reading.wrong()->what, reading.wrong()->next);
    return paper;
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

  // Returns the whole number that was given, `otherwise` where none was.
  template <class Whole>
  Whole whole(const char* option, const std::optional<std::string>& text, Whole least, Whole most,
              Whole otherwise) {
    if (!text) return otherwise;
    Whole value = 0;
    const char* const end = text->data() + text->size();
    const auto [rest, error] = std::from_chars(text->data(), end, value);
    if (error != std::errc{} || rest != end || value < least || value > most) {
      complain("The value '" + *text + "' of " + option + " is not a whole number from " +
                   std::to_string(least) + " to " + std::to_string(most) + ".",
               see_help());
      return otherwise;
    }
    return value;
  }

  std::optional<RedrawOptions> redraw(const std::optional<std::string>& draws,
                                      const std::optional<std::string>& seed) {
    if (!draws) {
      if (seed) {
        complain("--seed was given without --monte-carlo.",
                 "Add --monte-carlo and a number, for example --monte-carlo 1000.");
      }
      return std::nullopt;
    }
    constexpr std::uint64_t kMostSeed = std::numeric_limits<std::uint32_t>::max();
    RedrawOptions options;
    options.draws = whole("--monte-carlo", draws, kFewestDraws, kMostDraws, 0);
    options.seed = whole("--seed", seed, std::uint64_t{0}, kMostSeed, options.seed);
    return options;
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
  options.redraw = usage.redraw(texts.monte_carlo, texts.seed);
  constexpr int kMostJobs = 256;
  options.jobs = usage.whole("--jobs", texts.jobs, 1, kMostJobs, options.jobs);
  if (usage.wrong) return *usage.wrong;
  return options;
}

// Reads "9x6"; nothing where that is not two whole numbers a board can have.
std::optional<std::pair<int, int>> inner_corners(const std::string& text) {
  constexpr int kFewest = 3;
  constexpr int kMost = 60;
  std::pair<int, int> inner;
  const char* const end = text.data() + text.size();
  const auto [cross, first_error] = std::from_chars(text.data(), end, inner.first);
  if (first_error != std::errc{} || cross == end || *cross != 'x') return std::nullopt;
  const auto [rest, second_error] = std::from_chars(cross + 1, end, inner.second);
  if (second_error != std::errc{} || rest != end) return std::nullopt;
  if (inner.first < kFewest || inner.first > kMost) return std::nullopt;
  if (inner.second < kFewest || inner.second > kMost) return std::nullopt;
  return inner;
}

Command calibrate_command(const Texts& texts, Usage usage) {
  CalibrateOptions options;
  options.pictures = texts.projects;
  options.board_file = usage.file("--board", texts.board);
  options.paper = usage.paper(texts.paper);
  options.save = texts.save;
  options.square_text = texts.square.value_or(fixed_text(kBoardSquareMm, 0));
  options.square_mm = usage.number("--square", texts.square).value_or(kBoardSquareMm);
  constexpr double kLeastSquareMm = 1.0;
  constexpr double kMostSquareMm = 1000.0;
  if (!(options.square_mm >= kLeastSquareMm && options.square_mm <= kMostSquareMm)) {
    usage.complain("A square of " + options.square_text + " mm is no board's.",
                   "Give the side of one square, from 1 to 1000 mm.");
  }
  if (texts.inner) {
    if (const auto inner = inner_corners(*texts.inner)) {
      std::tie(options.columns, options.rows) = *inner;
    } else {
      usage.complain("The value '" + *texts.inner + "' of --inner is not understood.",
                     "Write columns x rows of inner corners, from 3 to 60, as --inner 9x6.");
    }
  }
  const std::vector<std::string>& pictures = options.pictures;
  if (texts.board && !(pictures.empty() && !texts.square && !texts.inner && !texts.save)) {
    usage.complain("--board writes the board, and takes no pictures and nothing about them.",
                   "Run the command twice: with --board, and later with the pictures.");
  }
  if (!texts.board && texts.paper) {
    usage.complain("--paper was given without --board.", usage.see_help());
  }
  if (!texts.board && pictures.empty()) {
    usage.complain("No picture was named.",
                   "Name pictures of the board, or write the board with --board board.pdf.");
  }
  if (std::find(pictures.begin(), pictures.end(), "") != pictures.end()) {
    usage.complain("The name of a picture is empty.", usage.see_help());
  }
  if (usage.wrong) return *usage.wrong;
  return options;
}

// Reads "1200,600,2900,2500"; nothing where that is not numbers with commas between them.
std::optional<std::vector<double>> numbers_of(const std::string& text) {
  std::vector<double> numbers;
  const char* at = text.data();
  const char* const end = text.data() + text.size();
  while (true) {
    double number = 0.0;
    const auto [rest, error] = std::from_chars(at, end, number);
    if (error != std::errc{} || !std::isfinite(number)) return std::nullopt;
    numbers.push_back(number);
    if (rest == end) return numbers;
    if (*rest != ',') return std::nullopt;
    at = rest + 1;
  }
}

void take_strokes(const std::vector<std::string>& texts, bool vessel, Usage& usage,
                  TraceOptions& options) {
  constexpr std::size_t kMostNumbers = 2000;
  for (const std::string& text : texts) {
    const auto numbers = numbers_of(text);
    if (!numbers || numbers->size() < 4 || numbers->size() % 2 != 0 ||
        numbers->size() > kMostNumbers) {
      usage.complain("The line '" + text + "' is not understood.",
                     std::string("Write two places or more in pixels, as --") +
                         (vessel ? "" : "not-") + "vessel 1300,1500,1350,2200.");
      return;
    }
    TraceOptions::Stroke stroke{vessel, {}, text};
    for (std::size_t i = 0; i < numbers->size(); i += 2) {
      stroke.places_px.push_back({(*numbers)[i], (*numbers)[i + 1]});
    }
    options.strokes.push_back(std::move(stroke));
  }
}

Command trace_command(const Texts& texts, Usage usage) {
  TraceOptions options;
  usage.check_projects(texts.projects);
  if (texts.projects.size() > 1) {
    usage.complain("More than one file was named, and one photograph is traced at a time.",
                   "Run the command once for each.");
  }
  if (!texts.projects.empty()) options.file = texts.projects.front();
  options.project_file = usage.file("--project", texts.project);
  options.picture_file = usage.file("--picture", texts.picture);
  options.references = texts.references;
  constexpr std::size_t kMostPhotos = 1000;
  options.photo =
      usage.whole<std::size_t>("--photo", texts.photo, 1, kMostPhotos, std::size_t{1}) - 1;
  if (texts.box) {
    options.box_text = *texts.box;
    if (const auto numbers = numbers_of(*texts.box); numbers && numbers->size() == 4) {
      options.box_px.emplace();
      std::copy(numbers->begin(), numbers->end(), options.box_px->begin());
    } else {
      usage.complain("The box '" + *texts.box + "' is not understood.",
                     "Write two opposite corners in pixels, as --box 1200,600,2900,2500.");
    }
  }
  take_strokes(texts.vessel, true, usage, options);
  take_strokes(texts.not_vessel, false, usage, options);
  if (usage.wrong) return *usage.wrong;
  return options;
}

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
  if (first == "clay") return command_of(parse_clay_arguments(rest));
  if (first == "plan") return command_of(parse_plan_arguments(rest));
  if (first == "check") return command_of(parse_check_arguments(rest));
  if (first == "compare") return command_of(parse_compare_arguments(rest));
  if (first == "sheet") return command_of(parse_sheet_arguments(rest));
  if (first == "printer") return command_of(parse_printer_arguments(rest));
  if (first == "unroll") return command_of(parse_unroll_arguments(rest));
  if (first == "export") return command_of(parse_export_arguments(rest));
  if (first == "visit") return command_of(parse_visit_arguments(rest));
  const bool calibrate = first == "calibrate";
  const bool trace = first == "trace";
  if (first != "measure" && !calibrate && !trace) return window_command(arguments, see_help);

  const bool measure = first == "measure";
  const Usage usage{"potshadow " + first + " --help"};
  CLI::App app;
  Texts texts;
  app.add_option("PROJECT", texts.projects);
  if (!calibrate && !trace) app.add_option("--units", texts.units);
  if (measure) {
    app.add_option("--json", texts.json);
    app.add_option("--csv", texts.csv);
    app.add_option("--monte-carlo", texts.monte_carlo);
    app.add_option("--seed", texts.seed);
    app.add_option("--jobs", texts.jobs);
  } else if (calibrate) {
    app.add_option("--board", texts.board);
    app.add_option("--paper", texts.paper);
    app.add_option("--square", texts.square);
    app.add_option("--inner", texts.inner);
    app.add_flag("--save", texts.save);
  } else if (trace) {
    app.add_option("--project", texts.project);
    app.add_option("--photo", texts.photo);
    app.add_option("--box", texts.box);
    app.add_option("--vessel", texts.vessel)->allow_extra_args(false);
    app.add_option("--not-vessel", texts.not_vessel)->allow_extra_args(false);
    app.add_option("--picture", texts.picture);
    app.add_flag("--references", texts.references);
  }
  try {
    // CLI11 takes the arguments last first.
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend() - 1));
  } catch (const CLI::CallForHelp&) {
    if (calibrate) return ShowText{kCalibrateHelp};
    if (trace) return ShowText{kTraceHelp};
    return ShowText{kMeasureHelp};
  } catch (const CLI::Error&) {
    const UsageProblem wrong = not_understood(usage.see_help());
    return WrongUsage{wrong.what, wrong.next};
  }
  if (calibrate) return calibrate_command(texts, usage);
  if (trace) return trace_command(texts, usage);
  return measure_command(texts, usage);
}

}  // namespace potshadow

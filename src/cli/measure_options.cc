// SPDX-License-Identifier: MIT
#include "cli/measure_options.h"

#include <cstdint>
#include <limits>

#include "cli/options.h"
#include "estimate/monte_carlo.h"

namespace potshadow {
namespace {

constexpr const char* kHelp =
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

constexpr const char* kSeeHelp = "Run 'potshadow measure --help' to see how it is used.";

std::optional<RedrawOptions> redraw_of(OptionReader& reading, const Typed& draws,
                                       const Typed& seed) {
  if (!draws) {
    if (seed) {
      reading.complain("--seed was given without --monte-carlo.",
                       "Add --monte-carlo and a number, for example --monte-carlo 1000.");
    }
    return std::nullopt;
  }
  constexpr std::uint64_t kMostSeed = std::numeric_limits<std::uint32_t>::max();
  RedrawOptions options;
  options.draws = reading.whole("--monte-carlo", draws, kFewestDraws, kMostDraws, 0);
  options.seed = reading.whole("--seed", seed, std::uint64_t{0}, kMostSeed, options.seed);
  return options;
}

}  // namespace

std::variant<MeasureOptions, MeasureHelp, UsageProblem> parse_measure_arguments(
    const std::vector<std::string>& arguments) {
  std::vector<std::string> names;
  Typed units, json, csv, monte_carlo, seed, jobs;
  const OptionSlots slots{{{"--units", &units},
                           {"--json", &json},
                           {"--csv", &csv},
                           {"--monte-carlo", &monte_carlo},
                           {"--seed", &seed},
                           {"--jobs", &jobs}},
                          {},
                          &names};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return MeasureHelp{kHelp};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  MeasureOptions options;
  options.projects = names;
  reading.names("project", names);
  options.json_file = reading.file("--json", json);
  options.csv_file = reading.file("--csv", csv);
  options.unit = reading.unit(units);
  if (options.json_file == kStandardOutput && options.csv_file == kStandardOutput) {
    reading.complain("Both --json and --csv were sent to standard output.",
                     "Give one of them a file name.");
  }
  options.redraw = redraw_of(reading, monte_carlo, seed);
  constexpr int kMostJobs = 256;
  options.jobs = reading.whole("--jobs", jobs, 1, kMostJobs, options.jobs);
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "cli/check_options.h"

#include "project/typed_bench.h"

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Says whether the pot on the bench is right, while it can still be changed: each size against what
it must be at that stage, the difference with its 95 % interval, what it will be when fired, and
which part to correct first. One diameter is enough.

Usage: potshadow check PROJECT --stage wet|leather-hard|bone-dry|fired [SIZE=LENGTH...]
                       [--photo BENCH.potshadow] [--right PERCENT] [--keep] [--evidence]
                       [--units mm|cm|in] [--json FILE] [--csv FILE]

  PROJECT             the original's project (.potshadow); its 'clay' names a record of your book,
                      or states a shrinkage
  --stage             how the pot stands: wet, leather-hard, bone-dry or fired
  SIZE=LENGTH         what you measured: height, max, max-height (how high the widest place is),
                      neck, neck-height, rim, base, or capacity in millilitres. Give a size more
                      than once where you measured it at several places round the pot
  SIZE=LENGTH±WITHIN  the same, sure to within that much; '+-' does for '±'. Where it is not said, a
                      caliper is taken to be sure to 0.5 mm, a tape or ruler to 1 mm, a girth to 2
                      mm of the way round
  caliper: tape: girth:
                      before a size, says how it was measured. A girth is the way round outside, and
                      the surest, for no pot is round: a single diameter may lie 1 % off the mean
  --photo BENCH.potshadow
                      a photograph of the pot on the bench, marked and measured like any other
  --right PERCENT     an interval that reaches no farther than this part of the size to either side
                      is called right where no difference shows; 5 if not given
  --keep              write the sizes into the project, so that later stages can be held to them
  --evidence          with sizes kept at an earlier stage: lay what this pot shrank by into its
                      clay's record, beside the bars; implies --keep
  --units mm|cm|in    the unit of lengths typed and printed; mm if not given; fractions as "9 3/8"
                      are read too
  --json FILE         write everything as JSON, in millimetres and millilitres
  --csv FILE          write a line for each size
  --help              show this text

FILE '-' stands for standard output; the text is then left out. Of pots that are right, at most one
in twenty is called larger or smaller in any of its sizes, however many you give.

Examples:
  potshadow check shelf-jar.potshadow --stage wet max=272
  potshadow check shelf-jar.potshadow --stage wet height=265±1 girth:max=852 rim=184 rim=186 --keep
  potshadow check shelf-jar.potshadow --stage fired height=233 girth:max=748 rim=161 --evidence
)";

constexpr const char* kSeeHelp = "Run 'potshadow check --help' to see how it is used.";

}  // namespace

std::variant<CheckOptions, CheckHelp, UsageProblem> parse_check_arguments(
    const std::vector<std::string>& arguments) {
  std::vector<std::string> names;
  Typed stage, photo, right, units, json, csv;
  CheckOptions options;
  const OptionSlots slots{{{"--stage", &stage},
                           {"--photo", &photo},
                           {"--right", &right},
                           {"--units", &units},
                           {"--json", &json},
                           {"--csv", &csv}},
                          {{"--keep", &options.keep}, {"--evidence", &options.evidence}},
                          &names};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return CheckHelp{kHelp};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  options.unit = reading.unit(units);
  std::vector<std::string> projects;
  for (const std::string& name : names) {
    if (name.find('=') == std::string::npos || name.ends_with(".potshadow")) {
      projects.push_back(name);
      continue;
    }
    const Result<BenchSizeReading> typed = typed_bench_size(name, options.unit);
    if (typed.ok()) {
      options.readings.push_back(*typed);
    } else {
      reading.complain(typed.problem().what, typed.problem().next);
    }
  }
  options.project = reading.one_name(projects, "project");
  options.stage = reading.stage("--stage", stage).value_or(options.stage);
  if (!stage) {
    reading.complain("It was not said at what stage the pot is.",
                     "Add --stage wet, leather-hard, bone-dry or fired.");
  }
  options.right_percent = reading.number("--right", right).value_or(options.right_percent);
  options.keep = options.keep || options.evidence;
  if (photo) options.photo_project = *photo;
  if (json) options.json_file = reading.output(json);
  if (csv) options.csv_file = reading.output(csv);
  if (options.readings.empty() && options.photo_project.empty()) {
    reading.complain("Nothing was measured on the pot.",
                     "Give one size at least, as in max=240, or --photo and a project.");
  }
  if (json && options.json_file == options.csv_file) {
    reading.complain("Both --json and --csv go to the same place.", "Give each a file of its own.");
  }
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow

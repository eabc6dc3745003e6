// SPDX-License-Identifier: MIT
#include "cli/compare_options.h"

#include <algorithm>
#include <array>

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Holds a replica against its original, both measured from photographs: how much larger or smaller
it is as a whole, and where its outline is another one once both are brought to one size. Nothing is
claimed that the intervals do not allow.

Usage: potshadow compare ORIGINAL REPLICA [--stage STAGE] [--sheet FILE.pdf] [...]

  ORIGINAL           the project file (.potshadow) of the original
  REPLICA            that of the replica
  --stage STAGE      how far the replica was when it was photographed; fired if not given. A pot
                     that is not fired is compared as it will be when its project's clay has shrunk
  --units mm|cm|in   the unit of what is printed; mm if not given
  --json FILE        write all of it as JSON, in millimetres; '-' stands for standard output, and
                     the text is then left out
  --csv FILE         write the gap between the profiles by height, as made and once both are brought
                     to one size, in millimetres; '-' likewise
  --sheet FILE.pdf   write it on paper: both outlines and the gap between them, the sizes, and both
                     photographs at one scale
  --paper PAPER      a4, a3, letter, legal or tabloid; a4 if not given
  --drawing FILE.svg write both outlines and their gap at true size, in millimetres
  --over FILE.png    lay the replica's photograph over the original's, as the original's camera
                     would have seen it; both show through
  --wipe             then shows the original left and the replica right of the axis instead
  --help             show this text

Examples:
  potshadow compare shelf-jar.potshadow my-jar.potshadow
  potshadow compare shelf-jar.potshadow my-jar.potshadow --stage leather-hard
  potshadow compare shelf-jar.potshadow my-jar.potshadow --sheet both.pdf --over both.png
)";

constexpr const char* kSeeHelp = "Run 'potshadow compare --help' to see how it is used.";

}  // namespace

std::variant<CompareOptions, CompareHelp, UsageProblem> parse_compare_arguments(
    const std::vector<std::string>& arguments) {
  std::vector<std::string> names;
  Typed stage, units, json, csv, sheet, paper, drawing, over;
  bool wipe = false;
  const OptionSlots slots{{{"--stage", &stage},
                           {"--units", &units},
                           {"--json", &json},
                           {"--csv", &csv},
                           {"--sheet", &sheet},
                           {"--paper", &paper},
                           {"--drawing", &drawing},
                           {"--over", &over}},
                          {{"--wipe", &wipe}},
                          &names};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return CompareHelp{kHelp};
  }
  if (wrong) return *wrong;
  if (names.size() != 2) {
    return UsageProblem{"Two project files are needed: the original's and the replica's.",
                        kSeeHelp};
  }
  OptionReader reading(kSeeHelp);
  CompareOptions options;
  options.arguments = arguments;
  options.original = names[0];
  options.replica = names[1];
  options.unit = reading.unit(units);
  if (stage) {
    constexpr std::array kStages = {Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry,
                                    Stage::kFired};
    const auto found = std::find_if(kStages.begin(), kStages.end(),
                                    [&](Stage one) { return stage_words(one) == *stage; });
    if (found == kStages.end()) {
      return UsageProblem{"'" + *stage + "' is no stage of a pot.",
                          "Give --stage as wet, leather-hard, bone-dry or fired."};
    }
    options.stage = *found;
  }
  if (json) options.json_file = reading.output(json);
  if (csv) options.csv_file = reading.output(csv);
  if (sheet) options.sheet_file = reading.output(sheet);
  if (drawing) options.drawing_file = reading.output(drawing);
  if (over) options.over_file = reading.output(over);
  options.wipe = wipe;
  if (wipe && !over) reading.complain("--wipe says how --over is drawn.", "Add --over FILE.png.");
  options.paper = reading.paper(paper);
  if (options.json_file == "-" && options.csv_file == "-") {
    return UsageProblem{"JSON and CSV cannot both go to standard output.",
                        "Give one of them a file."};
  }
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "cli/compare_options.h"

#include <algorithm>
#include <array>
#include <utility>

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Holds a replica against its original, both measured from photographs: how much larger or smaller
it is as a whole, and where its outline is another one once both are brought to one size. Nothing is
claimed that the intervals do not allow.

Usage: potshadow compare ORIGINAL REPLICA [--stage STAGE] [--sheet FILE.pdf] [...]
       potshadow compare ORIGINAL POT POT... [--stage STAGE,STAGE,...] [...]

  ORIGINAL           the project file (.potshadow) of the original, or a text (.txt, .csv) of
                     sizes, as 'height = 235 ± 2' on a line each, and after a line 'profile' of
                     heights and radii; 'unit', 'name', 'stage', 'shrinkage' and 'clay' may be given
  REPLICA            that of the replica
  POT POT...         a series: each pot against the original, what it shrank by from stage to stage,
                     and from that the next one's wet sizes. Pots of one name are one pot
  --series           a series of a single pot, as a text that gives it at several stages
  --stage STAGE      how far the replica was when it was photographed; fired if not given. A pot
                     that is not fired is compared as it will be when its project's clay has shrunk.
                     In a series one for each pot, with commas
  --original-stage STAGE   likewise of the original
  --at STAGE         the stage that all are compared at, each brought there by its clay; fired if
                     not given. An original that is fired is taken back as one of the replica's
                     clay. In a series the drawings then show them at that stage too, else as
                     measured
  --units mm|cm|in   the unit of what is printed; mm if not given
  --json FILE        write all of it as JSON, in millimetres; '-' stands for standard output, and
                     the text is then left out
  --csv FILE         write the gap between the profiles by height, as made and once both are brought
                     to one size, in millimetres, or of a series every size; '-' likewise
  --sheet FILE.pdf   write it on paper: both outlines and the gap between them, the sizes, and both
                     photographs at one scale
  --paper PAPER      a4, a3, letter, legal or tabloid; a4 if not given
  --drawing FILE     write both outlines and their gap, or of a series all outlines in small and how
                     they shrank: as FILE.svg at a true scale in millimetres, or as FILE.png
  --over FILE.png    lay the replica's photograph over the original's, as the original's camera
                     would have seen it; both show through
  --wipe             then shows the original left and the replica right of the axis instead
  --help             show this text

Examples:
  potshadow compare shelf-jar.potshadow my-jar.potshadow
  potshadow compare shelf-jar.potshadow my-jar.potshadow --stage leather-hard
  potshadow compare shelf-jar.potshadow my-jar.potshadow --sheet both.pdf --over both.png
  potshadow compare shelf-jar.potshadow my-jar.potshadow --stage leather-hard --at leather-hard
  potshadow compare shelf-jar.potshadow first.txt second.txt my-jar.potshadow --sheet series.pdf
)";

constexpr const char* kSeeHelp = "Run 'potshadow compare --help' to see how it is used.";

std::optional<Stage> stage_typed(const std::string& word) {
  constexpr std::array kStages = {Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry, Stage::kFired};
  const auto found = std::find_if(kStages.begin(), kStages.end(),
                                  [&](Stage one) { return stage_words(one) == word; });
  if (found == kStages.end()) return std::nullopt;
  return *found;
}

// The stages between commas.
std::variant<std::vector<Stage>, UsageProblem> stages_typed(const std::string& words) {
  std::vector<Stage> stages;
  std::size_t from = 0;
  while (from <= words.size()) {
    const std::size_t end = std::min(words.find(',', from), words.size());
    const std::string word = words.substr(from, end - from);
    const std::optional<Stage> stage = stage_typed(word);
    if (!stage) {
      return UsageProblem{"'" + word + "' is no stage of a pot.",
                          "Give --stage as wet, leather-hard, bone-dry or fired."};
    }
    stages.push_back(*stage);
    from = end + 1;
  }
  return stages;
}

}  // namespace

std::variant<CompareOptions, CompareHelp, UsageProblem> parse_compare_arguments(
    const std::vector<std::string>& arguments) {
  std::vector<std::string> names;
  Typed stage, original_stage, at, units, json, csv, sheet, paper, drawing, over;
  bool wipe = false;
  bool series = false;
  const OptionSlots slots{{{"--stage", &stage},
                           {"--original-stage", &original_stage},
                           {"--at", &at},
                           {"--units", &units},
                           {"--json", &json},
                           {"--csv", &csv},
                           {"--sheet", &sheet},
                           {"--paper", &paper},
                           {"--drawing", &drawing},
                           {"--over", &over}},
                          {{"--wipe", &wipe}, {"--series", &series}},
                          &names};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return CompareHelp{kHelp};
  }
  if (wrong) return *wrong;
  if (names.size() < 2) {
    return UsageProblem{"Two files are needed: the original's and the replica's.", kSeeHelp};
  }
  OptionReader reading(kSeeHelp);
  CompareOptions options;
  options.arguments = arguments;
  options.original = names[0];
  options.replica = names[1];
  options.pots.assign(names.begin() + 1, names.end());
  options.series = series || options.pots.size() > 1;
  options.unit = reading.unit(units);
  if (stage) {
    const auto stages = stages_typed(*stage);
    if (const auto* problem = std::get_if<UsageProblem>(&stages)) return *problem;
    options.stages = std::get<std::vector<Stage>>(stages);
    if (options.stages.size() > 1 && options.stages.size() != options.pots.size()) {
      return UsageProblem{"--stage gives " + std::to_string(options.stages.size()) +
                              " stages for " + std::to_string(options.pots.size()) + " pots.",
                          "Give one stage for all, or one for each pot."};
    }
  }
  for (const auto& [name, typed] :
       {std::pair{"--original-stage", &original_stage}, {"--at", &at}}) {
    if (!*typed) continue;
    const std::optional<Stage> found = stage_typed(**typed);
    if (!found) {
      return UsageProblem{
          "'" + **typed + "' is no stage of a pot.",
          "Give " + std::string(name) + " as wet, leather-hard, bone-dry or fired."};
    }
    if (typed == &at) options.at = *found;
    if (typed == &original_stage) options.original_stage = *found;
  }
  if (json) options.json_file = reading.output(json);
  if (csv) options.csv_file = reading.output(csv);
  if (sheet) options.sheet_file = reading.output(sheet);
  if (drawing) options.drawing_file = reading.output(drawing);
  if (over) options.over_file = reading.output(over);
  options.wipe = wipe;
  if (wipe && !over) reading.complain("--wipe says how --over is drawn.", "Add --over FILE.png.");
  if (options.series && over) {
    reading.complain("--over lays one photograph over one other.", "Give one replica only.");
  }
  options.paper = reading.paper(paper);
  if (options.json_file == "-" && options.csv_file == "-") {
    return UsageProblem{"JSON and CSV cannot both go to standard output.",
                        "Give one of them a file."};
  }
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "cli/unroll_options.h"

#include <algorithm>
#include <cmath>

#include "clay/painted_bands.h"

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Takes the painting off the pot: the wall as the photographs show it, laid flat at the size to make.
What no photograph shows stays blank, and what is seen at a slant fades. Every photograph of the
project that carries marks is used.

Usage: potshadow unroll PROJECT --output FILE.pdf|.png [...]

  PROJECT                 a project file (.potshadow)
  --output FILE           a .pdf prints at true size on as many sheets as it takes; a .png is the
                          picture alone and knows its size. More than one strip makes FILE-1.png,
                          FILE-2.png ... An existing file is replaced whole, or stays as it was
  --strips                strips that wrap round the pot and keep within a millimetre of its wall;
                          else the whole face as one picture, by angle and along the wall
  --strip LOW,HIGH[,...]  strips between these heights of the original
  --bands                 the painted strips that the project names
  --all-round             the whole girth; else only as far round as the photographs show
  --repeats N             borders between N repeats of a motif; a band's own if not given
  --front DEGREES         puts that direction in the middle, to the right of where the first
                          photograph looks; 0 if not given
  --pixels N              pixels to the millimetre, 1 to 40; the photograph's own fineness if not
                          given
  --paper PAPER           a4, a3, letter, legal or tabloid; a4 if not given
  --printer NAME          makes up for what this printer does to lengths: see 'potshadow printer'
  --most-pages N          makes no more sheets than that of a strip; 60 if not given
  --stage STAGE           the size of the pot that is wet, leather-hard, bone-dry or fired; wet if
                          not given
  --shrinkage PERCENT     total shrinkage of the clay, from wet to fired, as percent of the wet
                          length, 0 to 30; in place of the project's own. 0 gives the original size
  --units mm|cm|in        the unit of these lengths and of the figures; mm if not given
  --help                  show this text

Things that stand before the pot and what its glaze mirrors are on the picture too. A design belongs
to someone: follow the museum's rules on copying, and ask the community it comes from.

Examples:
  potshadow unroll shelf-jar.potshadow --output painting.png
  potshadow unroll shelf-jar.potshadow --output bands.pdf --strips --repeats 12
  potshadow unroll shelf-jar.potshadow --output shoulder.pdf --strip 90,130 --paper a3
)";

constexpr const char* kSeeHelp = "Run 'potshadow unroll --help' to see how it is used.";

bool ends_in(const std::string& name, const std::string& ending) {
  if (name.size() < ending.size()) return false;
  return std::equal(ending.rbegin(), ending.rend(), name.rbegin(), [](char a, char b) {
    return a == (b >= 'A' && b <= 'Z' ? static_cast<char>(b - 'A' + 'a') : b);
  });
}

std::vector<std::pair<double, double>> heights(const std::string& text, LengthUnit unit,
                                               OptionReader& reading) {
  std::vector<double> all;
  std::size_t from = 0;
  while (from <= text.size()) {
    const std::size_t comma = std::min(text.find(',', from), text.size());
    if (const auto mm = reading.length("--strip", text.substr(from, comma - from), unit)) {
      all.push_back(*mm);
    }
    from = comma + 1;
  }
  std::vector<std::pair<double, double>> pairs;
  for (std::size_t i = 0; i + 1 < all.size(); i += 2) pairs.emplace_back(all[i], all[i + 1]);
  if (all.size() % 2 != 0 || pairs.empty()) {
    reading.complain("A strip has a lower and an upper height.",
                     "Give them in pairs, as --strip 40,75 or --strip 40,75,90,130.");
  }
  return pairs;
}

}  // namespace

std::variant<UnrollOptions, UnrollHelp, UsageProblem> parse_unroll_arguments(
    const std::vector<std::string>& arguments) {
  UnrollOptions options;
  options.arguments = arguments;
  std::vector<std::string> names;
  Typed output, stage, units, shrinkage, strip, repeats, front, pixels, paper, printer, most_pages;
  bool strips = false;
  bool bands = false;
  OptionSlots slots{
      {{"--output", &output},
       {"--stage", &stage},
       {"--units", &units},
       {"--shrinkage", &shrinkage},
       {"--strip", &strip},
       {"--repeats", &repeats},
       {"--front", &front},
       {"--pixels", &pixels},
       {"--paper", &paper},
       {"--printer", &printer},
       {"--most-pages", &most_pages}},
      {{"--strips", &strips}, {"--bands", &bands}, {"--all-round", &options.all_round}},
      &names};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return UnrollHelp{kHelp};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  options.made.project = reading.one_name(names, "project");
  options.made.unit = reading.unit(units);
  options.made.stage = reading.stage("--stage", stage).value_or(Stage::kWet);
  options.made.shrinkage_percent = reading.number("--shrinkage", shrinkage);
  options.output_file = reading.output(output);
  options.pdf = ends_in(options.output_file, ".pdf");
  if (!options.pdf && !ends_in(options.output_file, ".png")) {
    reading.complain("The name '" + options.output_file + "' does not say which format is meant.",
                     "End it in .pdf or .png.");
  }
  if ((strips ? 1 : 0) + (bands ? 1 : 0) + (strip ? 1 : 0) > 1) {
    reading.complain("--strips, --strip and --bands each say which parts are wanted.",
                     "Give one of them.");
  }
  if (strips) options.parts = UnrolledParts::kStrips;
  if (bands) options.parts = UnrolledParts::kBands;
  if (strip) {
    options.parts = UnrolledParts::kTyped;
    options.heights_mm = heights(*strip, options.made.unit, reading);
  }
  const std::size_t count = reading.count("--repeats", repeats).value_or(0);
  if (count > static_cast<std::size_t>(kMostRepeats)) {
    reading.complain("No motif repeats " + *repeats + " times round a pot.",
                     "Give --repeats a smaller number.");
  }
  options.repeats = static_cast<int>(std::min(count, static_cast<std::size_t>(kMostRepeats)));
  options.front_deg = reading.number("--front", front).value_or(0.0);
  options.px_per_mm = reading.number("--pixels", pixels);
  constexpr double kLeastPixels = 1.0;
  constexpr double kMostPixels = 40.0;
  if (options.px_per_mm &&
      !(*options.px_per_mm >= kLeastPixels && *options.px_per_mm <= kMostPixels)) {
    reading.complain("--pixels " + *pixels + " is not from 1 to 40.",
                     "A fine print has some 10 to the millimetre.");
  }
  constexpr double kFullTurn = 360.0;
  if (!(std::abs(options.front_deg) <= kFullTurn)) {
    reading.complain("--front " + *front + " is no direction.", "Give it from -360 to 360.");
  }
  options.paper = reading.paper(paper);
  options.printer = printer.value_or("");
  options.most_pages = reading.count("--most-pages", most_pages);
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow

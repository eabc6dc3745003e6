// SPDX-License-Identifier: MIT
#include "cli/sheet_options.h"

#include <algorithm>

#include "project/sheet_set_request.h"

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Writes a PDF of sheets to print at true size on ordinary paper, cut out and work by. They are
enlarged so that the pot fires to the original's size. Print at 100 % and lay a ruler on the check
bars before you cut. If the scale is a guess every page says so; without any scale no sheet is made.

Usage: potshadow sheet PROJECT --output FILE.pdf [--kind KIND[,KIND...]] [--paper PAPER] [...]

  PROJECT                 a project file (.potshadow)
  --output FILE.pdf       where the sheets go; '-' stands for standard output
  --kind KIND             one or more of these, in their order; profile if not given
                            profile  a gauge held against the outside, with the table of sizes
                            rib      a rib that gives the inside its form
                            rings    half rings laid round rim, neck, widest place and foot
                            stick    the height of every feature
                            cradle   a template to turn the cradle (puki) with
                            lid      the seat of a lid: mouth, flange and the lid's own width
                            section  the drawing: section left, outside right, with a scale bar
                            bench    one page: sizes by stage, clay, cradle, coils, cautions
                            all      all of these but lid, as far as the vessel can have them
  --paper PAPER           a4, a3, letter, legal or tabloid; a4 if not given
  --scale 1:N             of the section drawing; the largest of 1:1, 1:2, 1:3, 1:4, 1:5 and 1:10
                          that fits a page if not given
  --printer NAME          makes up for what this printer does to lengths: see 'potshadow printer'
  --most-pages N          makes no more sheets than that of a kind; 60 if not given
)";

constexpr const char* kHelpEnd =
    R"(  --help                  show this text

An existing FILE.pdf is replaced whole, or stays as it was if anything fails.

Examples:
  potshadow sheet shelf-jar.potshadow --output shelf-jar.pdf
  potshadow sheet shelf-jar.potshadow --output bench.pdf --kind all --paper letter
  potshadow sheet shelf-jar.potshadow --output rings.pdf --kind rings,stick --printer studio
  potshadow sheet shelf-jar.potshadow --output as-it-stands.pdf --shrinkage 0
)";

constexpr const char* kSeeHelp = "Run 'potshadow sheet --help' to see how it is used.";

// Takes "bench" and "all" out of the list, which are no kinds of pattern.
void take_kinds(const Typed& text, OptionReader& reading, SheetOptions& options) {
  struct Kind {
    std::optional<PatternKind> pattern;
    bool all = false;
  };
  const auto meaning = [](const std::string& word) -> std::optional<Kind> {
    if (word == "bench") return Kind{};
    if (word == "all") return Kind{std::nullopt, true};
    if (const auto pattern = pattern_kind(word)) return Kind{pattern};
    return std::nullopt;
  };
  const auto add = [&](PatternKind kind) {
    std::vector<PatternKind>& kinds = options.kinds;
    if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) kinds.push_back(kind);
  };
  for (const Kind& kind :
       reading.list<Kind>("--kind", text.value_or("profile"), meaning,
                          "profile, rib, rings, stick, cradle, lid, section, bench or all")) {
    if (kind.pattern) {
      add(*kind.pattern);
      continue;
    }
    options.bench = true;
    if (!kind.all) continue;
    options.all = true;
    for (const PatternKind each : kUsualKinds) add(each);
  }
}

}  // namespace

std::variant<SheetOptions, SheetHelp, UsageProblem> parse_sheet_arguments(
    const std::vector<std::string>& arguments) {
  MadeTyped made;
  Typed output, kind, paper, scale, printer, most_pages;
  OptionSlots slots{{{"--output", &output},
                     {"--kind", &kind},
                     {"--paper", &paper},
                     {"--scale", &scale},
                     {"--printer", &printer},
                     {"--most-pages", &most_pages}}};
  made.add_to(slots);
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return SheetHelp{std::string(kHelp) + kMadeHelp + kHelpEnd};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  SheetOptions options;
  options.made = made.read(reading);
  options.output_file = reading.output(output);
  take_kinds(kind, reading, options);
  options.paper = reading.paper(paper);
  options.section_scale = reading.scale("--scale", scale);
  options.printer = printer.value_or("");
  options.most_pages = reading.count("--most-pages", most_pages);
  if (reading.wrong()) return *reading.wrong();
  return options;
}

}  // namespace potshadow

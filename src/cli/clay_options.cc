// SPDX-License-Identifier: MIT
#include "cli/clay_options.h"

#include <utility>

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Keeps your book of clays: how each is mixed, its test bars, and what they tell. A project whose
'clay' has a 'record' of the book then gets its shrinkage, with its interval, in 'measure', 'sheet',
'plan' and 'check'.

Usage: potshadow clay [list]
       potshadow clay show RECORD [--firing C]
       potshadow clay write RECORD [--name TEXT] [--note TEXT] [--mix PARTS] [--firing C]
                      [--water PERCENT] [--drying PERCENT] [--fire PERCENT] [--total PERCENT]
       potshadow clay bar RECORD [--number N] [--wet L] [--leather L] [--dry L] [--fired L]
                      [--firing C | --cone CONE] [--way vertical|horizontal] [--units mm|cm|in]
                      [--wet-weight G] [--dry-weight G] [--fired-weight G] [--date DAY]
                      [--note TEXT] [--leave-out | --use]
       potshadow clay remove RECORD [--number N | --pot N]
       potshadow clay import FILE [--replace]
       potshadow clay export [RECORD...] --output FILE
       potshadow clay sheet --output FILE.pdf [--paper a4|letter]
       potshadow clay handbook

  list      every clay of the book with its total shrinkage
  show      one clay: its bars, and every figure with its interval and where it comes from
  write     begins a clay, or changes what is given here
  bar       writes down a test bar; --number adds to one that is there, as it dries and is fired
  remove    takes a bar, a finished pot ('potshadow check --evidence'), or a whole clay out of it
  import    takes clays from a file that 'export' wrote; --replace where the book has them already
  export    writes clays, or the whole book, to a file to hand on
  sheet     a page to print: two marks 100 mm apart, and how to make the bars
  handbook  published figures, and what stands in where there are no bars

  RECORD          a clay's short name: letters, digits, '-', '_' and '.'
  --mix PARTS     dry weights in any unit, as "river=70, temper:Grog=30"; a name that is a record
                  of the book stands for that clay, and 'temper:' goes before what does not shrink
  --firing C      how hot it is fired, in °C; between bars of two firings it is interpolated, and
                  beyond them nothing is said
  --cone CONE     the same as a cone, as 06
  --water         water of plasticity, in percent of the DRY weight
  --drying, --fire, --total
                  shrinkages as a maker states them: of the wet length, of the DRY length, and of
                  the wet length; bars go before them
  --wet, --leather, --dry, --fired
                  the length between the two marks at that stage, in the unit of --units (mm if not
                  given); fractions as "3 15/16" are read too
  --way           which way of the pot the bar was cut along, if they are told apart
  --leave-out     keep the bar, but count it no more; --use takes that back
  --help          show this text

Dust of dry clay, grog and sand holds silica: mix and clean wet, and wear a fitted respirator.

Examples:
  potshadow clay write buff-mix --name "Buff mix" --firing 950
  potshadow clay bar buff-mix --wet 100 --date 2026-11-25
  potshadow clay bar buff-mix --number 1 --dry 94.2
  potshadow clay bar buff-mix --number 1 --fired 88.1 --firing 950
  potshadow clay show buff-mix
)";

constexpr const char* kSeeHelp = "Run 'potshadow clay --help' to see how it is used.";

using Parsed = std::variant<ClayOptions, ClayText, UsageProblem>;

// What CLI11 fills in.
struct Words {
  std::vector<std::string> names;
  Typed name, note, mix, firing, water, drying, fire, total, number, wet, leather, dry, fired, cone,
      way, units, wet_weight, dry_weight, fired_weight, date, output, paper, pot;
  bool leave_out = false;
  bool use = false;
  bool replace = false;
};

BarWay way_of(const Typed& text, OptionReader& reading) {
  if (!text) return BarWay::kEither;
  if (*text == "vertical") return BarWay::kVertical;
  if (*text == "horizontal") return BarWay::kHorizontal;
  reading.complain("The way '" + *text + "' is not known.",
                   "Use --way vertical or --way horizontal, or leave it out.");
  return BarWay::kEither;
}

Parsed or_wrong(const OptionReader& reading, ClayOptions options) {
  if (reading.wrong()) return *reading.wrong();
  return options;
}

Parsed write_options(const Words& words, OptionReader reading) {
  ClayWrite write;
  write.record = reading.one_name(words.names, "clay");
  write.name = words.name;
  write.note = words.note;
  write.mix = words.mix;
  write.firing_c = reading.number("--firing", words.firing);
  write.water_percent = reading.number("--water", words.water);
  const auto state = [&](const char* option, const Typed& text, Stage from, Stage to) {
    const std::optional<double> percent = reading.number(option, text);
    if (percent) write.stated.push_back({from, to, *percent});
  };
  state("--drying", words.drying, Stage::kWet, Stage::kBoneDry);
  state("--fire", words.fire, Stage::kBoneDry, Stage::kFired);
  state("--total", words.total, Stage::kWet, Stage::kFired);
  return or_wrong(reading, write);
}

Parsed bar_options(const Words& words, OptionReader reading) {
  ClayBar options;
  options.record = reading.one_name(words.names, "clay");
  options.number = reading.count("--number", words.number);
  const LengthUnit unit = reading.unit(words.units);
  TestBar& bar = options.bar;
  bar.wet_mm = reading.length("--wet", words.wet, unit);
  bar.leather_mm = reading.length("--leather", words.leather, unit);
  bar.dry_mm = reading.length("--dry", words.dry, unit);
  bar.fired_mm = reading.length("--fired", words.fired, unit);
  bar.wet_g = reading.number("--wet-weight", words.wet_weight);
  bar.dry_g = reading.number("--dry-weight", words.dry_weight);
  bar.fired_g = reading.number("--fired-weight", words.fired_weight);
  bar.firing_c = reading.number("--firing", words.firing);
  bar.cone = words.cone.value_or("");
  bar.way = way_of(words.way, reading);
  bar.date = words.date.value_or("");
  bar.note = words.note.value_or("");
  if (words.firing && words.cone) {
    reading.complain("Both --firing and --cone were given.", "Give one of them.");
  }
  if (words.leave_out && words.use) {
    reading.complain("Both --leave-out and --use were given.", "Give one of them.");
  }
  if (words.leave_out) options.used = false;
  if (words.use) options.used = true;
  if (!options.number && !options.used && bar == TestBar()) {
    reading.complain("Nothing was said of the bar.", "Give at least its length, as in --wet 100.");
  }
  return or_wrong(reading, options);
}

// Returns where the options of one verb go, or nothing for a verb that is none.
std::optional<OptionSlots> slots_of(const std::string& verb, Words& w) {
  if (verb == "list" || verb == "handbook") return OptionSlots{};
  if (verb == "show") return OptionSlots{{{"--firing", &w.firing}}, {}, &w.names};
  if (verb == "write") {
    return OptionSlots{{{"--name", &w.name},
                        {"--note", &w.note},
                        {"--mix", &w.mix},
                        {"--firing", &w.firing},
                        {"--water", &w.water},
                        {"--drying", &w.drying},
                        {"--fire", &w.fire},
                        {"--total", &w.total}},
                       {},
                       &w.names};
  }
  if (verb == "bar") {
    return OptionSlots{{{"--number", &w.number},
                        {"--wet", &w.wet},
                        {"--leather", &w.leather},
                        {"--dry", &w.dry},
                        {"--fired", &w.fired},
                        {"--firing", &w.firing},
                        {"--cone", &w.cone},
                        {"--way", &w.way},
                        {"--units", &w.units},
                        {"--wet-weight", &w.wet_weight},
                        {"--dry-weight", &w.dry_weight},
                        {"--fired-weight", &w.fired_weight},
                        {"--date", &w.date},
                        {"--note", &w.note}},
                       {{"--leave-out", &w.leave_out}, {"--use", &w.use}},
                       &w.names};
  }
  if (verb == "remove") {
    return OptionSlots{{{"--number", &w.number}, {"--pot", &w.pot}}, {}, &w.names};
  }
  if (verb == "import") return OptionSlots{{}, {{"--replace", &w.replace}}, &w.names};
  if (verb == "export") return OptionSlots{{{"--output", &w.output}}, {}, &w.names};
  if (verb == "sheet") {
    return OptionSlots{{{"--output", &w.output}, {"--paper", &w.paper}}, {}, nullptr};
  }
  return std::nullopt;
}

Parsed options_of(const std::string& verb, const Words& words) {
  OptionReader reading(kSeeHelp);
  if (verb == "list") return ClayOptions(ClayList{});
  if (verb == "handbook") return ClayOptions(ClayHandbook{});
  if (verb == "write") return write_options(words, reading);
  if (verb == "bar") return bar_options(words, reading);
  if (verb == "show") {
    const ClayShow show{reading.one_name(words.names, "clay"),
                        reading.number("--firing", words.firing)};
    return or_wrong(reading, show);
  }
  if (verb == "remove") {
    const ClayRemove remove{reading.one_name(words.names, "clay"),
                            reading.count("--number", words.number),
                            reading.count("--pot", words.pot)};
    if (words.number && words.pot) {
      reading.complain("Both --number and --pot were given.", "Give one of them.");
    }
    return or_wrong(reading, remove);
  }
  if (verb == "import") {
    return or_wrong(reading, ClayImport{reading.one_name(words.names, "file"), words.replace});
  }
  if (verb == "export") {
    return or_wrong(reading, ClayExport{words.names, reading.output(words.output)});
  }
  const ClaySheet sheet{reading.output(words.output), reading.paper(words.paper)};
  return or_wrong(reading, sheet);
}

}  // namespace

std::variant<ClayOptions, ClayText, UsageProblem> parse_clay_arguments(
    const std::vector<std::string>& arguments) {
  const std::string verb = arguments.empty() ? "list" : arguments.front();
  if (verb == "--help" || verb == "-h") return ClayText{kHelp};
  Words words;
  const std::optional<OptionSlots> slots = slots_of(verb, words);
  if (!slots)
    return UsageProblem{"'" + verb + "' is nothing that can be done with clays.", kSeeHelp};
  std::vector<std::string> rest = arguments;
  if (!rest.empty()) rest.erase(rest.begin());
  std::optional<UsageProblem> wrong;
  if (read_options(*slots, rest, kSeeHelp, wrong) == LineRead::kHelpWanted) return ClayText{kHelp};
  if (wrong) return *wrong;
  return options_of(verb, words);
}

}  // namespace potshadow

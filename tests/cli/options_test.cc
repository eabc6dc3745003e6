// SPDX-License-Identifier: MIT
#include "cli/options.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>
#include <string>
#include <vector>

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;

using Words = std::vector<std::string>;

template <class T>
T parsed(const Words& arguments) {
  const Command command = parse_arguments(arguments);
  const T* found = std::get_if<T>(&command);
  EXPECT_NE(found, nullptr) << testing::PrintToString(arguments);
  return found == nullptr ? T{} : *found;
}

std::string help_of(const std::string& command) {
  return parsed<ShowText>({command, "--help"}).text;
}

TEST(Options, MeasureTakesProjectsAndOutputs) {
  const auto plain = parsed<MeasureOptions>({"measure", "a.potshadow"});
  EXPECT_THAT(plain.projects, ElementsAre("a.potshadow"));
  EXPECT_EQ(plain.json_file, "");
  EXPECT_EQ(plain.csv_file, "");
  EXPECT_EQ(plain.unit, LengthUnit::kMm);
  const auto full = parsed<MeasureOptions>(
      {"measure", "--json", "-", "b.potshadow", "--units=in", "--csv", "x.csv", "a.potshadow"});
  EXPECT_THAT(full.projects, ElementsAre("b.potshadow", "a.potshadow"));
  EXPECT_EQ(full.json_file, "-");
  EXPECT_EQ(full.csv_file, "x.csv");
  EXPECT_EQ(full.unit, LengthUnit::kInch);
  EXPECT_EQ(parsed<MeasureOptions>({"measure", "a", "--units", "cm"}).unit, LengthUnit::kCm);
  EXPECT_THAT(parsed<MeasureOptions>({"measure", "--", "--json"}).projects, ElementsAre("--json"));
  EXPECT_FALSE(full.redraw.has_value());
  const auto redrawn = parsed<MeasureOptions>({"measure", "a", "--monte-carlo", "1000"}).redraw;
  ASSERT_TRUE(redrawn.has_value());
  EXPECT_EQ(redrawn->draws, 1000);
  EXPECT_EQ(redrawn->seed, 1U);
  EXPECT_EQ(full.jobs, 0);
  EXPECT_EQ(parsed<MeasureOptions>({"measure", "a", "b", "--jobs", "2"}).jobs, 2);
  const auto seeded =
      parsed<MeasureOptions>({"measure", "a", "--seed", "4294967295", "--monte-carlo", "100000"})
          .redraw;
  ASSERT_TRUE(seeded.has_value());
  EXPECT_EQ(seeded->draws, 100000);
  EXPECT_EQ(seeded->seed, 4294967295U);
}

TEST(Options, SheetTakesOneProjectAndItsPaper) {
  const auto plain = parsed<SheetOptions>({"sheet", "a.potshadow", "--output", "a.pdf"});
  EXPECT_EQ(plain.made.project, "a.potshadow");
  EXPECT_EQ(plain.output_file, "a.pdf");
  EXPECT_EQ(plain.paper, Paper::kA4);
  EXPECT_FALSE(plain.made.shrinkage_percent.has_value());
  EXPECT_FALSE(plain.made.shrinkage_sd_percent.has_value());
  EXPECT_THAT(plain.kinds, ElementsAre(PatternKind::kProfile));
  const auto full =
      parsed<SheetOptions>({"sheet", "--shrinkage", "12.5", "a.potshadow", "--output", "-",
                            "--paper", "letter", "--units", "in", "--shrinkage-sd", "0.25"});
  EXPECT_EQ(full.output_file, "-");
  EXPECT_EQ(full.paper, Paper::kLetter);
  EXPECT_EQ(full.made.unit, LengthUnit::kInch);
  EXPECT_EQ(full.made.shrinkage_percent, 12.5);
  EXPECT_EQ(full.made.shrinkage_sd_percent, 0.25);
}

TEST(Options, SheetTakesKindsAndHowTheyAreMade) {
  const auto some = parsed<SheetOptions>({"sheet",        "a",
                                          "--output",     "x",
                                          "--kind",       "stick,bench,rings,stick",
                                          "--paper",      "A3",
                                          "--scale",      "1:4",
                                          "--stage",      "leather-hard",
                                          "--whole",      "--left-handed",
                                          "--wall",       "1/4",
                                          "--units",      "in",
                                          "--printer",    "studio",
                                          "--most-pages", "400"});
  EXPECT_THAT(some.kinds, ElementsAre(PatternKind::kStick, PatternKind::kRings));
  EXPECT_TRUE(some.bench);
  EXPECT_FALSE(some.all);
  EXPECT_EQ(some.paper, Paper::kA3);
  EXPECT_EQ(some.section_scale, 0.25);
  EXPECT_EQ(some.made.stage, Stage::kLeatherHard);
  EXPECT_TRUE(some.made.patterns.whole);
  EXPECT_TRUE(some.made.patterns.left_handed);
  EXPECT_EQ(some.made.wall_mm, 6.35);
  EXPECT_EQ(some.printer, "studio");
  EXPECT_EQ(some.most_pages, 400U);
  const auto all = parsed<SheetOptions>({"sheet", "a", "--output", "x", "--kind", "all"});
  EXPECT_EQ(all.kinds.size(), 6U);
  EXPECT_TRUE(all.bench);
  EXPECT_TRUE(all.all);
}

TEST(Options, ExportChoosesTheFormatByTheEnding) {
  const auto flat =
      parsed<ExportOptions>({"export", "a", "--output", "x.DXF", "--kind", "rib,section"});
  EXPECT_EQ(flat.format, ExportFormat::kDxf);
  EXPECT_THAT(flat.patterns, ElementsAre(PatternKind::kRib, PatternKind::kSection));
  const auto solid = parsed<ExportOptions>({"export", "a", "--output", "x.stl", "--kind", "cradle",
                                            "--tolerance", "0.2", "--plate", "4"});
  EXPECT_EQ(solid.format, ExportFormat::kStl);
  EXPECT_EQ(solid.solid, SolidKind::kCradle);
  EXPECT_EQ(solid.choices.tolerance_mm, 0.2);
  EXPECT_EQ(solid.choices.plate_mm, 4.0);
}

TEST(Options, PrinterTakesBothBars) {
  EXPECT_EQ(parsed<PrinterOptions>({"printer"}).name, "");
  const auto kept =
      parsed<PrinterOptions>({"printer", "studio", "--across", "99.1", "--along", "98,6"});
  ASSERT_TRUE(kept.bars);
  EXPECT_EQ(kept.bars->across_mm, 99.1);
  EXPECT_EQ(kept.bars->along_mm, 98.6);
  EXPECT_TRUE(parsed<PrinterOptions>({"printer", "studio", "--forget"}).forget);
}

TEST(Options, NoCommandOpensTheWindow) {
  EXPECT_EQ(parsed<WindowOptions>({}).file, "");
  EXPECT_EQ(parsed<WindowOptions>({"jar.potshadow"}).file, "jar.potshadow");
  EXPECT_EQ(parsed<WindowOptions>({"case 3/jar"}).file, "case 3/jar");
  EXPECT_EQ(parsed<WindowOptions>({"IMG.JPG"}).file, "IMG.JPG");
  EXPECT_EQ(parsed<WindowOptions>({"./measure"}).file, "./measure");
}

TEST(Options, WhatIsNotUnderstoodIsSaidInTwoSentences) {
  struct Case {
    Words arguments;
    std::string what;
  };
  const std::vector<Case> cases{
      {{"guess"}, "'guess' is neither a command nor a file."},
      {{"mesure", "jar.potshadow"}, "'mesure' is neither a command nor a file."},
      {{"--fast"}, "There is no option '--fast'."},
      {{"--fast", "jar.potshadow"}, "There is no option '--fast'."},
      {{""}, "'' is neither a command nor a file."},
      {{"jar.potshadow", "low-bowl.potshadow"}, "'low-bowl.potshadow' was not expected here."},
      {{"jar.potshadow", "--units"}, "'--units' was not expected here."},
      {{"measure"}, "No project was named."},
      {{"measure", ""}, "The name of a project is empty."},
      {{"measure", "a", "--fast"}, "'--fast' was not expected here."},
      {{"measure", "a", "--paper", "a4"}, "was not expected here."},
      {{"measure", "a", "--json"}, "The option --json takes one value"},
      {{"measure", "a", "--json", "x", "--json", "y"}, "The option --json takes one value"},
      {{"measure", "a", "--json", ""}, "The file name after --json is empty."},
      {{"measure", "a", "--units", "yd"}, "The unit 'yd' is not known."},
      {{"measure", "a", "--units", "MM"}, "The unit 'MM' is not known."},
      {{"measure", "a", "--json", "-", "--csv", "-"}, "Both --json and --csv"},
      {{"measure", "a", "--monte-carlo", "99"}, "'99' of --monte-carlo is not a whole number from"},
      {{"measure", "a", "--monte-carlo", "100001"}, "from 100 to 100000."},
      {{"measure", "a", "--monte-carlo", "1e3"}, "'1e3' of --monte-carlo is not a whole number"},
      {{"measure", "a", "--monte-carlo", "200", "--seed", "-1"}, "'-1' of --seed is not"},
      {{"measure", "a", "--monte-carlo", "200", "--jobs", "0"}, "'0' of --jobs is not"},
      {{"measure", "a", "b", "--jobs", "257"}, "'257' of --jobs is not"},
      {{"measure", "a", "--seed", "2"}, "--seed was given without --monte-carlo."},
      {{"sheet", "a", "--output", "x", "--monte-carlo", "200"}, "was not expected here."},
      {{"sheet", "a"}, "It was not said where the file goes."},
      {{"sheet", "--output", "x"}, "No project was named."},
      {{"sheet", "a", "b", "--output", "x"}, "'b' was not expected here."},
      {{"sheet", "a", "--output", "x", "--paper", "B7"}, "The paper 'B7' is not known."},
      {{"sheet", "a", "--output", "x", "--kind", "profile,hat"}, "'hat' of --kind is not known."},
      {{"sheet", "a", "--output", "x", "--kind", ""}, "'' of --kind is not known."},
      {{"sheet", "a", "--output", "x", "--scale", "2:1"}, "'2:1' of --scale is no scale"},
      {{"sheet", "a", "--output", "x", "--scale", "1:0.5"}, "'1:0.5' of --scale is no scale"},
      {{"sheet", "a", "--output", "x", "--stage", "damp"}, "The stage 'damp' is not known."},
      {{"sheet", "a", "--output", "x", "--most-pages", "0"}, "'0' of --most-pages is not"},
      {{"sheet", "a", "--output", "x", "--lid-clearance", "-1"}, "A lid cannot be -1.0 mm"},
      {{"export", "a"}, "It was not said where the file goes."},
      {{"export", "a", "--output", "jar.png"}, "'jar.png' does not say which format"},
      {{"export", "a", "--output", "x.stl", "--kind", "hat"}, "There is no solid 'hat'."},
      {{"export", "a", "--output", "x.svg", "--kind", "vessel"},
       "'vessel' of --kind is not known."},
      {{"printer", "a"}, "It was not said what to do with the printer."},
      {{"printer", "a", "--across", "99"}, "Only one of --across and --along was given."},
      {{"printer", "--forget"}, "It was not said which printer is meant."},
      {{"printer", ""}, "It was not said which printer is meant."},
      {{"sheet", "a", "--output", "x", "--shrinkage", "much"}, "'much' of --shrinkage is not a"},
      {{"sheet", "a", "--output", "x", "--shrinkage", "nan"}, "'nan' of --shrinkage is not a"},
      {{"sheet", "a", "--output", "x", "--shrinkage", "inf"}, "'inf' of --shrinkage is not a"},
      {{"sheet", "a", "--output", "x", "--shrinkage-sd", "big"}, "'big' of --shrinkage-sd is not"},
      {{"sheet", "a", "--output", "x", "--shrinkage", "12%"}, "'12%' of --shrinkage is not a"},
  };
  std::size_t ran = 0;
  for (const Case& test : cases) {
    const auto wrong = parsed<WrongUsage>(test.arguments);
    EXPECT_THAT(wrong.what, HasSubstr(test.what));
    for (const std::string& sentence : {wrong.what, wrong.next}) {
      EXPECT_THAT(sentence, testing::EndsWith("."));
      EXPECT_EQ(sentence.find(". "), std::string::npos) << sentence;
    }
    ++ran;
  }
  EXPECT_EQ(ran, 49U);
}

TEST(Options, HelpNamesEveryOptionAndShowsExamples) {
  std::size_t ran = 0;
  for (const std::string option :
       {"--units", "--json", "--csv", "--monte-carlo", "--seed", "--jobs", "--help"}) {
    EXPECT_THAT(help_of("measure"), HasSubstr("\n  " + option));
    ++ran;
  }
  for (const std::string option :
       {"--output", "--paper", "--shrinkage PERCENT", "--shrinkage-sd", "--units", "--help"}) {
    EXPECT_THAT(help_of("sheet"), HasSubstr("\n  " + option));
    ++ran;
  }
  EXPECT_EQ(ran, 13U);
  EXPECT_EQ(parsed<ShowText>({"measure", "-h"}).text, help_of("measure"));
  EXPECT_THAT(help_of("measure"), HasSubstr("\"projects\""));
  const std::string all = parsed<ShowText>({"--help"}).text;
  EXPECT_THAT(all, HasSubstr("Exit codes:"));
  EXPECT_THAT(all, HasSubstr("\n  potshadow [FILE]  opens the window"));
  EXPECT_THAT(all, HasSubstr("\n  measure "));
  EXPECT_THAT(all, HasSubstr("\n  sheet "));
  EXPECT_EQ(parsed<ShowText>({"--version"}).text, "potshadow " POTSHADOW_VERSION "\n");
}

// Every example of the help texts is a command line that is understood.
TEST(Options, ExamplesInTheHelpWork) {
  std::size_t ran = 0;
  for (const std::string& help : {parsed<ShowText>({"--help"}).text, help_of("measure"),
                                  help_of("sheet"), help_of("unroll")}) {
    std::istringstream lines(help.substr(help.find("Examples:")));
    std::string line;
    while (std::getline(lines, line)) {
      std::istringstream words(line.substr(0, line.find('|')));
      Words arguments;
      for (std::string word; words >> word;) arguments.push_back(word);
      if (arguments.empty() || arguments.front() != "potshadow") continue;
      arguments.erase(arguments.begin());
      EXPECT_FALSE(std::holds_alternative<WrongUsage>(parse_arguments(arguments))) << line;
      ++ran;
    }
  }
  EXPECT_EQ(ran, 15U);
}

TEST(Options, HelpFitsATerminal) {
  std::size_t ran = 0;
  constexpr std::size_t kColumns = 100;
  std::vector<std::string> helps = {parsed<ShowText>({"--help"}).text};
  for (const char* command : {"measure", "trace", "sheet", "unroll", "export", "printer",
                              "calibrate", "clay", "plan", "check", "compare", "visit"}) {
    helps.push_back(help_of(command));
  }
  for (const std::string& help : helps) {
    std::istringstream lines(help);
    for (std::string line; std::getline(lines, line); ++ran) {
      EXPECT_LE(display_width(line), kColumns) << line;
    }
  }
  EXPECT_GT(ran, 60U);
}

}  // namespace
}  // namespace potshadow

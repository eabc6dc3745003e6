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
  EXPECT_EQ(redrawn->jobs, 0);
  const auto seeded = parsed<MeasureOptions>({"measure", "a", "--seed", "4294967295", "--jobs", "2",
                                              "--monte-carlo", "100000"})
                          .redraw;
  ASSERT_TRUE(seeded.has_value());
  EXPECT_EQ(seeded->draws, 100000);
  EXPECT_EQ(seeded->seed, 4294967295U);
  EXPECT_EQ(seeded->jobs, 2);
}

TEST(Options, SheetTakesOneProjectAndItsPaper) {
  const auto plain = parsed<SheetOptions>({"sheet", "a.potshadow", "--output", "a.pdf"});
  EXPECT_EQ(plain.project, "a.potshadow");
  EXPECT_EQ(plain.output_file, "a.pdf");
  EXPECT_EQ(plain.paper, Paper::kA4);
  EXPECT_FALSE(plain.shrinkage_percent.has_value());
  EXPECT_FALSE(plain.shrinkage_sd_percent.has_value());
  const auto full =
      parsed<SheetOptions>({"sheet", "--shrinkage", "12.5", "a.potshadow", "--output", "-",
                            "--paper", "letter", "--units", "in", "--shrinkage-sd", "0.25"});
  EXPECT_EQ(full.output_file, "-");
  EXPECT_EQ(full.paper, Paper::kLetter);
  EXPECT_EQ(full.unit, LengthUnit::kInch);
  EXPECT_EQ(full.shrinkage_percent, 12.5);
  EXPECT_EQ(full.shrinkage_sd_percent, 0.25);
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
      {{"measure", "a", "--seed", "2"}, "--seed was given without --monte-carlo."},
      {{"measure", "a", "--jobs", "2"}, "--jobs was given without --monte-carlo."},
      {{"sheet", "a", "--output", "x", "--monte-carlo", "200"}, "was not expected here."},
      {{"sheet", "a"}, "It was not said where the template goes."},
      {{"sheet", "--output", "x"}, "No project was named."},
      {{"sheet", "a", "b", "--output", "x"}, "More than one project was named"},
      {{"sheet", "a", "--output", "x", "--paper", "A3"}, "The paper 'A3' is not known."},
      {{"sheet", "a", "--output", "x", "--shrinkage", "12,5"}, "'12,5' of --shrinkage is not a"},
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
  EXPECT_EQ(ran, 34U);
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
  for (const std::string& help :
       {parsed<ShowText>({"--help"}).text, help_of("measure"), help_of("sheet")}) {
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
  EXPECT_EQ(ran, 11U);
}

TEST(Options, HelpFitsATerminal) {
  std::size_t ran = 0;
  constexpr std::size_t kColumns = 100;
  for (const std::string& help :
       {parsed<ShowText>({"--help"}).text, help_of("measure"), help_of("sheet")}) {
    std::istringstream lines(help);
    for (std::string line; std::getline(lines, line); ++ran) {
      EXPECT_LE(display_width(line), kColumns) << line;
    }
  }
  EXPECT_GT(ran, 60U);
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The helps read back into parts, and held against the parser. tests/install tries what is made of
// them: the manual page and the completions, by man and by the shells.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "cli/help_layout.h"
#include "cli/manual_page.h"
#include "cli/options.h"

namespace potshadow {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr std::size_t kFewestCommands = 11;

TEST(HelpLayout, PartsAreToldApart) {
  const HelpText help = help_layout(
      "Turns it. Then\nagain.\n\nUsage: potshadow turn A [--by N]\n                      [--far]\n"
      "       potshadow turn B\n\n  A        what is turned; it goes\n           on here\n"
      "  --by N   one of these\n             1  little\n             2  much, or\n"
      "  --long, --longer\n           both are long\n\nLast words.\n\nExamples:\n  potshadow turn "
      "A\n");
  ASSERT_EQ(help.before.size(), 1U);
  EXPECT_EQ(help.before[0].paragraph, "Turns it. Then again.");
  EXPECT_THAT(help.usage, ElementsAre("potshadow turn A [--by N] [--far]", "potshadow turn B"));
  ASSERT_EQ(help.after.size(), 3U);
  EXPECT_THAT(help.after[0].entries,
              ElementsAre(HelpEntry{"A", "what is turned; it goes on here"},
                          HelpEntry{"--by N", "one of these", {{"1", "little"}, {"2", "much, or"}}},
                          HelpEntry{"--long, --longer", "both are long"}));
  EXPECT_THAT(help_layout("Usage: x\n\n  a   one\n  bcd two\n").after[0].entries,
              ElementsAre(HelpEntry{"a", "one"}, HelpEntry{"bcd", "two"}));
  EXPECT_EQ(help.after[1].paragraph, "Last words.");
  EXPECT_EQ(help.after[2].heading, "Examples");
  EXPECT_THAT(help.after[2].entries, ElementsAre(HelpEntry{"potshadow turn A", ""}));
}

TEST(HelpLayout, OptionsAndTheirArgumentsAreFound) {
  const HelpText help = help_layout(
      "Usage: potshadow turn [--by N[,N]] [--way up|down | --left] [--sheet FILE.pdf]\n\n"
      "  --left   to the left\n  --by N   so far\n");
  const std::vector<HelpOption> options = options_of(help);
  ASSERT_EQ(options.size(), 4U);
  EXPECT_EQ(options[0].name + options[0].argument, "--left");
  EXPECT_EQ(options[1].name + " " + options[1].argument, "--by N");
  EXPECT_EQ(options[2].name + " " + options[2].argument, "--way up|down");
  EXPECT_THAT(choices_of(help, options[2]), ElementsAre("up", "down"));
  EXPECT_EQ(options[3].name + " " + options[3].argument, "--sheet FILE.pdf");
  EXPECT_THAT(choices_of(help, options[3]), IsEmpty());
}

// Returns whether the parser knows the option on such a line, whatever it says of its value.
bool knows(std::vector<std::string> line, const std::string& option) {
  line.push_back(option);
  const Command parsed = parse_arguments(line);
  const auto* wrong = std::get_if<WrongUsage>(&parsed);
  return wrong == nullptr || wrong->what.find("expected here") == std::string::npos;
}

TEST(Helps, EveryOptionIsTakenByTheParser) {
  EXPECT_FALSE(knows({"measure"}, "--no-such-option"));
  EXPECT_FALSE(knows({"clay", "show"}, "--no-such-option"));
  std::size_t tried = 0;
  for (const CommandHelp& command : all_help()) {
    if (command.name.empty()) continue;
    for (const HelpOption& option : options_of(command.help)) {
      if (option.name == "--help") continue;
      const std::vector<std::string> words = subcommands_of(command);
      const bool known = knows({command.name}, option.name) ||
                         std::any_of(words.begin(), words.end(), [&](const std::string& word) {
                           return knows({command.name, word}, option.name);
                         });
      EXPECT_TRUE(known) << command.name << " " << option.name;
      ++tried;
    }
  }
  EXPECT_GE(tried, 80U);
}

// The parser's options stand in src/cli as "--name"; each must be in some help.
TEST(Helps, EveryOptionOfTheParserIsExplained) {
  std::set<std::string> explained{"--help", "--version"};
  const std::vector<CommandHelp> all = all_help();
  for (const CommandHelp& command : all) {
    for (const HelpOption& option : options_of(command.help)) explained.insert(option.name);
  }
  ASSERT_GE(all.size(), kFewestCommands + 1);
  const std::regex literal("\"(--[a-z][a-z-]*)\"");
  std::size_t found = 0;
  for (const auto& file : std::filesystem::directory_iterator(POTSHADOW_SOURCE_DIR "/src/cli")) {
    if (!file.path().string().ends_with("options.cc")) continue;
    std::ifstream stream(file.path());
    const std::string text{std::istreambuf_iterator<char>(stream), {}};
    for (std::sregex_iterator match(text.begin(), text.end(), literal), end; match != end;
         ++match) {
      EXPECT_EQ(explained.count((*match)[1]), 1U) << file.path() << " " << (*match)[1];
      ++found;
    }
  }
  EXPECT_GE(found, 80U);
}

TEST(Helps, WhatIsOfferedAsAChoiceIsTaken) {
  std::size_t tried = 0;
  for (const CommandHelp& command : all_help()) {
    for (const HelpOption& option : options_of(command.help)) {
      for (const std::string& choice : choices_of(command.help, option)) {
        if (command.name == "clay") continue;  // its options depend on the word that goes before
        const Command parsed = parse_arguments({command.name, option.name, choice});
        if (const auto* wrong = std::get_if<WrongUsage>(&parsed)) {
          EXPECT_THAT(wrong->what, Not(HasSubstr("'" + choice + "'")))
              << command.name << " " << option.name;
        }
        ++tried;
      }
    }
  }
  EXPECT_GE(tried, 50U);
}

TEST(ManualPage, LinesThatTroffWouldTakeForOrdersAreMarked) {
  CommandHelp program{"", "", help_layout("A.\n\nUsage: potshadow\n\n  .x  'it' \\ a-b\n")};
  const std::string page = manual_page({program}, "1");
  EXPECT_THAT(page, HasSubstr("\\&.x"));
  EXPECT_THAT(page, HasSubstr("\\(aqit\\(aq \\e a\\-b"));
}

}  // namespace
}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Reads the help text of a command back into its parts, for the manual page and for shells.
#pragma once

#include <string>
#include <vector>

namespace potshadow {

// The model of a help text: blocks with a blank line between them. "Usage: ..." shows how the
// command is called. A line alone that ends in a colon heads the block below it. A block whose
// lines begin with two spaces lists entries, "  TERM  words", which go on in lines that are further
// in; anything else is a paragraph. Lines of an entry that are further in than its words are rows
// of a small table. Whatever does not fit counts as a paragraph, so nothing is lost and nothing
// fails.

struct HelpEntry {
  std::string term;               // "--units mm|cm|in"
  std::string words;              // "the unit of the printed table", on one line
  std::vector<HelpEntry> rows{};  // of a table below the words
  friend bool operator==(const HelpEntry&, const HelpEntry&) = default;
};

struct HelpBlock {
  std::string heading;             // "Examples"; empty where none is
  std::string paragraph;           // on one line; empty where the block is a list or examples
  std::vector<HelpEntry> entries;  // of a list; an example has a term and no words
  friend bool operator==(const HelpBlock&, const HelpBlock&) = default;
};

struct HelpText {
  std::vector<std::string>
      usage;  // "potshadow measure PROJECT... [--units mm|cm|in]", one line each
  std::vector<HelpBlock> before;  // blocks before the usage
  std::vector<HelpBlock> after;
};

// Returns the parts of `text`.
HelpText help_layout(const std::string& text);

// A command, or the program itself (empty name), with all that its help says.
struct CommandHelp {
  std::string name;
  std::string in_brief;  // the program's own word for it
  HelpText help;
};

// Returns the program's own help, then each command's in the order in which it names them.
std::vector<CommandHelp> all_help();

// An option as the helps write it.
struct HelpOption {
  std::string name;      // "--units"
  std::string argument;  // "mm|cm|in"; empty where it takes none
  std::string words;     // what it does; empty where only the usage names it
};

// Returns every option that the usage or an entry names, by first appearance.
std::vector<HelpOption> options_of(const HelpText& help);

// Returns what may stand for an argument: "mm", "cm", "in" for "mm|cm|in", the papers for "PAPER".
// Empty where anything may, or a file.
std::vector<std::string> choices_of(const HelpText& help, const HelpOption& option);

// Returns the words that the usage has in small letters right after the command's name: "show".
std::vector<std::string> subcommands_of(const CommandHelp& command);

}  // namespace potshadow

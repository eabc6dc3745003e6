// SPDX-License-Identifier: MIT
#include "cli/manual_page.h"

#include <algorithm>
#include <string_view>
#include <utility>

namespace potshadow {
namespace {

// What no help text says: the files the program keeps, and what it heeds.
constexpr const char* kEnd =
    R"(.SH FILES
.TP
.I *.potshadow
A project: a text file in JSON. It names its photographs by where they lie from it.
.TP
.I $XDG_DATA_HOME/potshadow/clays.json
The book of clays.
.TP
.I $XDG_CONFIG_HOME/potshadow/
Calibrated cameras, printers, and the window's settings.
.TP
.I $XDG_STATE_HOME/potshadow/recovery/
Unsaved work of the window, to be offered again after a crash.
.PP
Where a variable is not set, the folders are ~/.local/share, ~/.config and ~/.local/state. Nothing
is written anywhere else, but for the files you name; the network is never used.
)";

std::string escaped(std::string_view text) {
  std::string out;
  for (const char letter : text) {
    if (letter == '\\') {
      out += "\\e";
    } else if (letter == '-') {
      out += "\\-";
    } else if (letter == '\'') {
      out += "\\(aq";
    } else {
      out += letter;
    }
  }
  // A dot at a line's start would be read as an order.
  return out.starts_with('.') ? "\\&" + out : out;
}

void add_example_lines(const std::vector<HelpEntry>& entries, std::string& page) {
  page += ".PP\n.RS 4\n.nf\n";
  for (const HelpEntry& entry : entries) page += escaped(entry.term) + "\n";
  page += ".fi\n.RE\n";
}

void add_entry(const HelpEntry& entry, std::string& page) {
  page += ".TP\n.B \"" + escaped(entry.term) + "\"\n";
  page += escaped(entry.words) + "\n";
  if (entry.rows.empty()) return;
  page += ".RS\n";
  for (const HelpEntry& row : entry.rows) {
    page += ".TP 10\n" + escaped(row.term) + "\n" + escaped(row.words) + "\n";
  }
  page += ".RE\n";
}

void add_block(const HelpBlock& block, std::string& page) {
  if (!block.paragraph.empty()) page += ".PP\n" + escaped(block.paragraph) + "\n";
  if (block.entries.empty()) return;
  if (block.heading == "Examples") {
    page += ".PP\nExamples:\n";
    add_example_lines(block.entries, page);
    return;
  }
  for (const HelpEntry& entry : block.entries) add_entry(entry, page);
}

void add_usage(const std::vector<std::string>& usage, std::string& page) {
  for (const std::string& line : usage) {
    page += ".PP\n.HP\n.B " + line.substr(0, line.find(' ')) + "\n";
    if (line.find(' ') != std::string::npos)
      page += escaped(line.substr(line.find(' ') + 1)) + "\n";
  }
}

void add_command(const CommandHelp& command, std::string& page) {
  page += ".SS potshadow " + command.name + "\n";
  for (const HelpBlock& block : command.help.before) add_block(block, page);
  add_usage(command.help.usage, page);
  for (const HelpBlock& block : command.help.after) add_block(block, page);
}

}  // namespace

std::string manual_page(const std::vector<CommandHelp>& all, const std::string& version) {
  const HelpText& program = all.front().help;
  std::string page =
      ".\\\" SPDX-License-Identifier: MIT\n.\\\" Made from the program's own help.\n";
  page += ".TH POTSHADOW 1 \"\" \"Potshadow " + version + "\" \"Potshadow\"\n";
  page += ".nh\n.ad l\n";
  page += ".SH NAME\npotshadow \\- sizes and templates of vessels from photographs\n";
  page += ".SH SYNOPSIS\n";
  add_usage(program.usage, page);
  page += ".SH DESCRIPTION\n";
  for (const HelpBlock& block : program.before) add_block(block, page);
  constexpr std::pair<std::string_view, std::string_view> kSections[] = {
      {"Commands", "COMMANDS"},
      {"Options", "OPTIONS"},
      {"Examples", "EXAMPLES"},
      {"Exit codes", "EXIT STATUS"}};
  for (const HelpBlock& block : program.after) {
    const auto* section =
        std::find_if(std::begin(kSections), std::end(kSections),
                     [&](const auto& pair) { return pair.first == block.heading; });
    if (section != std::end(kSections)) page += ".SH " + std::string(section->second) + "\n";
    if (block.heading == "Examples") {
      add_example_lines(block.entries, page);
      continue;
    }
    add_block(block, page);
  }
  page += ".SH THE COMMANDS ONE BY ONE\n";
  for (auto command = all.begin() + 1; command != all.end(); ++command) add_command(*command, page);
  return page + kEnd;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "cli/help_layout.h"

#include <algorithm>
#include <cctype>
#include <sstream>
#include <string_view>

#include "cli/options.h"

namespace potshadow {
namespace {

std::size_t indent_of(const std::string& line) {
  const std::size_t at = line.find_first_not_of(' ');
  return at == std::string::npos ? line.size() : at;
}

void join(std::string& text, const std::string& line) {
  if (!text.empty()) text += ' ';
  text += line.substr(indent_of(line));
}

// Splits "  TERM   words" where two spaces or more stand between them, or one before the column in
// which the words of the entry above begin; sets where the words begin.
HelpEntry entry_of(const std::string& line, std::size_t& words_at) {
  const std::size_t start = indent_of(line);
  std::size_t gap = line.find("  ", start);
  if (gap == std::string::npos && words_at > start && words_at < line.size() &&
      line.find(' ', start) == words_at - 1) {
    gap = words_at - 1;
  }
  if (gap == std::string::npos) {
    words_at = 0;
    return {line.substr(start), ""};
  }
  words_at = line.find_first_not_of(' ', gap);
  return {line.substr(start, gap - start), line.substr(words_at)};
}

std::vector<HelpEntry> entries_of(const std::vector<std::string>& lines) {
  const std::size_t margin = indent_of(lines.front());
  std::vector<HelpEntry> entries;
  std::size_t words_at = 0;
  for (const std::string& line : lines) {
    const std::size_t indent = indent_of(line);
    if (indent <= margin || entries.empty()) {
      entries.push_back(entry_of(line, words_at));
    } else if (words_at == 0) {  // a long term, whose words begin on the next line
      words_at = indent;
      join(entries.back().words, line);
    } else if (indent > words_at) {
      std::size_t ignored = 0;
      entries.back().rows.push_back(entry_of(line, ignored));
    } else {
      join(entries.back().words, line);
    }
  }
  return entries;
}

void add_usage(std::vector<std::string>& lines, HelpText& text) {
  constexpr std::string_view kUsage = "Usage: ";
  lines.front() = lines.front().substr(kUsage.size());
  for (const std::string& line : lines) {
    const std::string bare = line.substr(indent_of(line));
    if (text.usage.empty() || bare.starts_with("potshadow")) {
      text.usage.push_back(bare);
    } else {
      join(text.usage.back(), bare);
    }
  }
}

HelpBlock block_of(std::vector<std::string> lines) {
  HelpBlock block;
  if (lines.size() > 1 && lines.front().ends_with(':') && indent_of(lines.front()) == 0) {
    block.heading = lines.front().substr(0, lines.front().size() - 1);
    lines.erase(lines.begin());
  }
  if (indent_of(lines.front()) > 0) {
    block.entries = entries_of(lines);
  } else {
    for (const std::string& line : lines) join(block.paragraph, line);
  }
  return block;
}

std::string shown(const std::vector<std::string>& arguments) {
  const Command command = parse_arguments(arguments);
  const auto* text = std::get_if<ShowText>(&command);
  return text != nullptr ? text->text : "";
}

// Reads one option and its argument at the front of `text`, and takes them off it.
HelpOption take_option(std::string_view& text) {
  constexpr std::string_view kLetters = "abcdefghijklmnopqrstuvwxyz-";
  const std::size_t end = std::min(text.find_first_not_of(kLetters), text.size());
  HelpOption option{std::string(text.substr(0, end)), "", ""};
  text.remove_prefix(end);
  if (text.size() < 2 || text[0] != ' ' || text[1] == '-' || text[1] == '[' || text[1] == '|') {
    return option;
  }
  text.remove_prefix(1);
  const std::size_t stop = std::min(text.find_first_of(" ],"), text.size());
  option.argument = text.substr(0, stop);
  text.remove_prefix(stop);
  return option;
}

void add_options(const std::string& line, const std::string& words,
                 std::vector<HelpOption>& options) {
  std::string_view text = line;
  while (true) {
    const std::size_t at = text.find("--");
    if (at == std::string_view::npos) return;
    text.remove_prefix(at);
    const HelpOption option = take_option(text);
    const auto same = std::find_if(options.begin(), options.end(), [&](const HelpOption& other) {
      return other.name == option.name;
    });
    if (same == options.end()) {
      options.push_back({option.name, option.argument, words});
      continue;
    }
    if (same->argument.empty()) same->argument = option.argument;
    if (same->words.empty()) same->words = words;
  }
}

bool small_word(const std::string& word) {
  return !word.empty() && std::all_of(word.begin(), word.end(),
                                      [](char letter) { return letter >= 'a' && letter <= 'z'; });
}

}  // namespace

HelpText help_layout(const std::string& text) {
  HelpText layout;
  std::istringstream stream(text);
  std::vector<std::string> lines;
  const auto end_block = [&] {
    if (lines.empty()) return;
    if (lines.front().starts_with("Usage: ")) {
      add_usage(lines, layout);
    } else {
      (layout.usage.empty() ? layout.before : layout.after).push_back(block_of(lines));
    }
    lines.clear();
  };
  for (std::string line; std::getline(stream, line);) {
    if (line.empty()) {
      end_block();
    } else {
      lines.push_back(line);
    }
  }
  end_block();
  return layout;
}

std::vector<CommandHelp> all_help() {
  std::vector<CommandHelp> all{{"", "", help_layout(shown({"--help"}))}};
  const HelpText program = all.front().help;
  for (const HelpBlock& block : program.after) {
    if (block.heading != "Commands") continue;
    for (const HelpEntry& entry : block.entries) {
      all.push_back({entry.term, entry.words, help_layout(shown({entry.term, "--help"}))});
    }
  }
  return all;
}

std::vector<HelpOption> options_of(const HelpText& help) {
  std::vector<HelpOption> options;
  for (const HelpBlock& block : help.after) {
    if (block.heading == "Examples") continue;
    for (const HelpEntry& entry : block.entries) {
      if (entry.term.starts_with("--")) add_options(entry.term, entry.words, options);
    }
  }
  for (const std::string& line : help.usage) add_options(line, "", options);
  return options;
}

std::vector<std::string> choices_of(const HelpText& help, const HelpOption& option) {
  const std::string& argument = option.argument;
  if (argument == "PAPER") return {"a4", "a3", "letter", "legal", "tabloid"};
  if (argument == "STAGE") return {"wet", "leather-hard", "bone-dry", "fired"};
  if (argument.starts_with("KIND")) {
    std::vector<std::string> kinds;
    for (const HelpBlock& block : help.after) {
      for (const HelpEntry& entry : block.entries) {
        if (!entry.term.starts_with(option.name + " ")) continue;
        for (const HelpEntry& row : entry.rows) kinds.push_back(row.term);
      }
    }
    if (!kinds.empty()) return kinds;
    return {"profile", "rib", "rings", "stick", "cradle", "lid", "section", "vessel", "outside"};
  }
  std::vector<std::string> words;
  std::istringstream stream(argument);
  for (std::string word; std::getline(stream, word, '|');) words.push_back(word);
  const bool all_small = std::all_of(words.begin(), words.end(), [](const std::string& word) {
    return !word.empty() && std::none_of(word.begin(), word.end(), [](unsigned char letter) {
      return std::isupper(letter) != 0;
    });
  });
  return words.size() > 1 && all_small ? words : std::vector<std::string>{};
}

std::vector<std::string> subcommands_of(const CommandHelp& command) {
  std::vector<std::string> found;
  for (const std::string& line : command.help.usage) {
    std::istringstream stream(line);
    std::string program, name, word;
    stream >> program >> name >> word;
    word.erase(std::remove_if(word.begin(), word.end(),
                              [](char letter) { return letter == '[' || letter == ']'; }),
               word.end());
    if (small_word(word)) found.push_back(word);
  }
  return found;
}

}  // namespace potshadow

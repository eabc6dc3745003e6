// SPDX-License-Identifier: MIT
#include "cli/shell_completion.h"

#include <algorithm>

namespace potshadow {
namespace {

constexpr const char* kHead =
    "# SPDX-License-Identifier: MIT\n# Made from the program's own help.\n";

std::string spaced(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

// Returns the first clause of `words`, short enough to stand in a list, without what a shell's
// quotes or a list's own marks would take wrongly.
std::string in_brief(const std::string& words) {
  std::string text = words.substr(0, words.find_first_of(";:.("));
  std::erase_if(text, [](char letter) {
    return letter == '\'' || letter == '[' || letter == ']' || letter == '\\' || letter == '"';
  });
  while (text.ends_with(' ')) text.pop_back();
  return text;
}

bool takes_file(const HelpOption& option) {
  return option.argument.find("FILE") != std::string::npos ||
         option.argument.ends_with(".potshadow");
}

// Returns whether files that are no projects stand without an option, too.
bool takes_any_file(const CommandHelp& command) {
  return std::any_of(command.help.usage.begin(), command.help.usage.end(), [](const auto& line) {
    return line.find(" PICTURE") != std::string::npos ||
           line.find(" PHOTOGRAPH") != std::string::npos ||
           line.find(" import FILE") != std::string::npos;
  });
}

// Returns an argument's name, for a list: "FILE" of "FILE.pdf".
std::string kind_of_argument(const std::string& argument) {
  return argument.substr(0, argument.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ"));
}

std::vector<std::string> names_of(const std::vector<HelpOption>& options) {
  std::vector<std::string> names;
  for (const HelpOption& option : options) names.push_back(option.name);
  return names;
}

// Returns "--a|--b" of the options that `wanted` picks out and that stand for an argument.
template <class Wanted>
std::string either(const std::vector<HelpOption>& options, Wanted wanted) {
  std::string text;
  for (const HelpOption& option : options) {
    if (option.argument.empty() || !wanted(option)) continue;
    text += (text.empty() ? "" : "|") + option.name;
  }
  return text;
}

void add_bash_case(const CommandHelp& command, std::string& script) {
  const std::vector<HelpOption> options = options_of(command.help);
  script += "    " + command.name + ")\n      case $before in\n";
  for (const HelpOption& option : options) {
    const std::vector<std::string> choices = choices_of(command.help, option);
    if (!choices.empty()) {
      script += "        " + option.name + ") choices='" + spaced(choices) + "' ;;\n";
    }
  }
  if (const std::string files = either(options, takes_file); !files.empty()) {
    script += "        " + files + ") files=all ;;\n";
  }
  const std::string free = either(options, [&](const HelpOption& option) {
    return !takes_file(option) && choices_of(command.help, option).empty();
  });
  if (!free.empty()) script += "        " + free + ") return ;;\n";
  script += "        *) options='" + spaced(names_of(options)) + "'";
  script += std::string(takes_any_file(command) ? " files=all" : "") + " ;;\n      esac\n";
  if (const auto words = subcommands_of(command); !words.empty()) {
    script += "      [ \"$COMP_CWORD\" -gt 2 ] || words='" + spaced(words) + "'\n";
  }
  script += "      ;;\n";
}

constexpr const char* kBashEnd =
    R"(  esac
  fi
  if [ -n "$choices" ]; then
    COMPREPLY=($(compgen -W "$choices" -- "$word"))
    return
  fi
  if [[ $word == -* ]]; then
    COMPREPLY=($(compgen -W "$options" -- "$word"))
    return
  fi
  local IFS=$'\n'
  compopt -o filenames 2>/dev/null
  COMPREPLY=($(IFS=' '; compgen -W "$words" -- "$word"))
  if [ "$files" = all ]; then
    COMPREPLY+=($(compgen -f -- "$word"))
  else
    COMPREPLY+=($(compgen -d -- "$word"; compgen -f -X '!*.potshadow' -- "$word"))
  fi
}
complete -F _potshadow potshadow
)";

std::vector<std::string> command_names(const std::vector<CommandHelp>& all) {
  std::vector<std::string> names;
  for (auto command = all.begin() + 1; command != all.end(); ++command)
    names.push_back(command->name);
  return names;
}

}  // namespace

std::string bash_completion(const std::vector<CommandHelp>& all) {
  std::string script = kHead;
  script += "_potshadow() {\n  local word=${COMP_WORDS[COMP_CWORD]}\n";
  script += "  local before=${COMP_WORDS[COMP_CWORD-1]} choices= files= options= words=\n";
  script += "  COMPREPLY=()\n";
  script += "  if [ \"$COMP_CWORD\" = 1 ]; then\n    options='" +
            spaced(names_of(options_of(all.front().help))) + "'\n    words='" +
            spaced(command_names(all)) + "'\n    files=all\n  else\n  case ${COMP_WORDS[1]} in\n";
  for (auto command = all.begin() + 1; command != all.end(); ++command) {
    add_bash_case(*command, script);
  }
  return script + kBashEnd;
}

std::string zsh_completion(const std::vector<CommandHelp>& all) {
  std::string script = "#compdef potshadow\n";
  script += kHead;
  script += "_potshadow() {\n  if (( CURRENT == 2 )); then\n    local -a commands=(\n";
  for (auto command = all.begin() + 1; command != all.end(); ++command) {
    script += "      '" + command->name + ":" + in_brief(command->in_brief) + "'\n";
  }
  script += "    )\n    _describe command commands\n    _files\n    return\n  fi\n";
  script += "  local name=$words[2]\n  shift words\n  (( CURRENT-- ))\n  case $name in\n";
  for (auto command = all.begin() + 1; command != all.end(); ++command) {
    script += "    " + command->name + ")\n      _arguments \\\n";
    for (const HelpOption& option : options_of(command->help)) {
      script += "        '*" + option.name + "[" + in_brief(option.words) + "]";
      const std::vector<std::string> choices = choices_of(command->help, option);
      if (!choices.empty()) {
        script += ":value:(" + spaced(choices) + ")";
      } else if (takes_file(option)) {
        script += ":file:_files";
      } else if (!option.argument.empty()) {
        script += ":" + kind_of_argument(option.argument) + ":";
      }
      script += "' \\\n";
    }
    if (const auto words = subcommands_of(*command); !words.empty()) {
      script += "        '1:what to do:(" + spaced(words) + ")' \\\n";
    }
    script += "        '*:file:_files'\n      ;;\n";
  }
  return script + "  esac\n}\n_potshadow \"$@\"\n";
}

std::string fish_completion(const std::vector<CommandHelp>& all) {
  std::string script = kHead;
  const std::string names = spaced(command_names(all));
  for (auto command = all.begin() + 1; command != all.end(); ++command) {
    const std::string start = "complete -c potshadow -n ";
    script += start + "'not __fish_seen_subcommand_from " + names + "' -a " + command->name +
              " -d '" + in_brief(command->in_brief) + "'\n";
    const std::string within = start + "'__fish_seen_subcommand_from " + command->name + "'";
    for (const std::string& word : subcommands_of(*command))
      script += within + " -a " + word + "\n";
    for (const HelpOption& option : options_of(command->help)) {
      script += within + " -l " + option.name.substr(2);
      const std::vector<std::string> choices = choices_of(command->help, option);
      if (!choices.empty()) {
        script += " -x -a '" + spaced(choices) + "'";
      } else if (takes_file(option)) {
        script += " -r -F";
      } else if (!option.argument.empty()) {
        script += " -x";
      }
      if (!option.words.empty()) script += " -d '" + in_brief(option.words) + "'";
      script += "\n";
    }
  }
  return script;
}

}  // namespace potshadow

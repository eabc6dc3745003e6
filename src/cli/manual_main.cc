// SPDX-License-Identifier: MIT
// Writes the manual page and the shells' completions into a folder, when the program is built.
#include <cstdio>
#include <filesystem>
#include <string>
#include <utility>

#include "cli/help_layout.h"
#include "cli/manual_page.h"
#include "cli/shell_completion.h"
#include "core/files.h"

int main(int argc, char** argv) {
  using namespace potshadow;
  if (argc != 2) {
    std::fputs("Usage: potshadow-manual FOLDER\n", stderr);
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  const std::vector<CommandHelp> all = all_help();
  const std::pair<const char*, std::string> files[] = {
      {"potshadow.1", manual_page(all, POTSHADOW_VERSION)},
      {"potshadow.bash", bash_completion(all)},
      {"_potshadow", zsh_completion(all)},
      {"potshadow.fish", fish_completion(all)}};
  for (const auto& [name, text] : files) {
    if (const Result<Done> written = write_file_whole(folder / name, text); !written.ok()) {
      std::fprintf(stderr, "%s %s\n", written.problem().what.c_str(),
                   written.problem().next.c_str());
      return 2;
    }
  }
  return 0;
}

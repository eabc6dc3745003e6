// SPDX-License-Identifier: MIT
#include <string>
#include <vector>

#include "cli/commands.h"
#include "cli/sibling_program.h"

namespace potshadow {

ExitCode run_trace(const TraceOptions& options) {
  std::vector<std::string> arguments{"trace", "--photo", std::to_string(options.photo + 1)};
  const auto add = [&](const char* option, const std::string& value) {
    if (value.empty()) return;
    arguments.emplace_back(option);
    arguments.push_back(value);
  };
  add("--box", options.box_text);
  for (const TraceOptions::Stroke& stroke : options.strokes) {
    add(stroke.vessel ? "--vessel" : "--not-vessel", stroke.text);
  }
  add("--project", options.project_file);
  add("--picture", options.picture_file);
  if (options.references) arguments.emplace_back("--references");
  arguments.emplace_back("--");
  arguments.push_back(options.file);
  return become_picture_program(arguments);
}

}  // namespace potshadow

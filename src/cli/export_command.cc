// SPDX-License-Identifier: MIT
#include "cli/commands.h"
#include "exports/exported_file.h"

namespace potshadow {

ExitCode run_export(const ExportOptions& options) {
  const auto fail = [](const Problem& problem) {
    print_problem("", problem);
    return exit_code_of(problem);
  };
  const Result<MadeVessel> made = made_vessel(options.made);
  if (!made) return fail(made.problem());
  const std::string about = pattern_about(made->measurement, options.made.project, made->made);
  const PatternChoices& patterns = options.made.patterns;
  const Result<ExportedFile> file =
      is_flat(options.format)
          ? exported_pieces(options.format, options.patterns, made->vessel, patterns, about)
          : exported_solid(options.format, options.solid, made->vessel, patterns, options.choices,
                           about);
  if (!file) return fail(file.problem());
  const Result<Done> written = write_output(options.output_file, file->bytes, made->inputs);
  if (!written) return fail(written.problem());
  std::string said = "Wrote " + on_one_line(options.output_file) + ": " + file->said + ".\n" +
                     on_one_line(about) + ".\n";
  for (const std::string& doubt : made->doubts) said += "! " + doubt + "\n";
  const Result<Done> printed = print_text(said);
  return printed.ok() ? ExitCode::kDone : fail(printed.problem());
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include <utility>

#include "cli/commands.h"
#include "cli/kept_printer.h"
#include "project/sheet_set_request.h"

namespace potshadow {

ExitCode run_sheet(const SheetOptions& options, std::chrono::system_clock::time_point now) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  const Result<SheetChoices> choices = sheet_choices(
      options.paper, options.made.unit, options.printer, options.most_pages, options.made.project);
  if (!choices) return fail("", choices.problem());
  Result<MadeVessel> found = made_vessel(options.made);
  if (!found) return fail("", found.problem());
  MadeVessel made = std::move(found).value();
  const WantedSheets wanted{options.kinds, options.bench, options.all, options.made.patterns,
                            options.section_scale};
  const Result<SheetSetRequest> request = sheet_set_request(
      {made.measurement, options.made.project, made.made, made.vessel}, wanted,
      options.bench ? own_clay_book() : Result<ClayBook>(ClayBook()), *choices, now);
  if (!request) return fail("", request.problem());
  for (const Note& note : request.notes()) made.doubts.push_back(note.text);
  const Result<SheetPdf> pdf = sheet_set(*request);
  if (!pdf) return fail(options.made.project, pdf.problem());
  const Result<Done> written = write_output(options.output_file, pdf->bytes, made.inputs);
  if (!written) return fail("", written.problem());

  std::string said;
  if (options.output_file != kStandardOutput) {
    said = "Wrote " + on_one_line(options.output_file) + ": " + std::to_string(pdf->pages) +
           (pdf->pages == 1 ? " page" : " pages") + " at true size, enlarged for " +
           shrinkage_percents(made.made.shrinkage) +
           " shrinkage.\nPrint at 100 % and lay a ruler on the check bars before you cut.\n";
    for (const std::string& doubt : made.doubts) said += "! " + doubt + "\n";
    for (const Note& note : pdf.notes()) said += "! " + on_one_line(note.text) + "\n";
  }
  const Result<Done> printed = print_text(said);
  if (!printed) return fail("", printed.problem());
  return ExitCode::kDone;
}

}  // namespace potshadow

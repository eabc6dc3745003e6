// SPDX-License-Identifier: MIT
#include <utility>

#include "cli/commands.h"
#include "cli/kept_printer.h"
#include "project/bench_page_request.h"
#include "project/sheet_request.h"
#include "sheets/sheet_set.h"

namespace potshadow {
namespace {

// Takes out the kinds that this vessel cannot have, saying why.
void leave_out(SheetSetRequest& request, std::vector<std::string>& doubts) {
  std::vector<PatternKind> kept;
  for (const PatternKind kind : request.kinds) {
    const Result<std::vector<Pattern>> pieces = patterns_of(kind, request.vessel, request.choices);
    if (pieces.ok() || pieces.problem().code != Code::kCannotBeAnswered) {
      kept.push_back(kind);
    } else {
      doubts.push_back(std::string(pattern_title(kind)) +
                       " left out: " + on_one_line(pieces.problem().what));
    }
  }
  request.kinds = std::move(kept);
}

}  // namespace

ExitCode run_sheet(const SheetOptions& options, std::chrono::system_clock::time_point now) {
  const auto fail = [](std::string_view about, const Problem& problem) {
    print_problem(about, problem);
    return exit_code_of(problem);
  };
  const Result<PrinterScale> printer = kept_printer(options.printer);
  if (!printer) return fail("", printer.problem());
  Result<MadeVessel> found = made_vessel(options.made);
  if (!found) return fail("", found.problem());
  MadeVessel made = std::move(found).value();
  const SheetChoices choices{options.paper, options.made.unit};
  SheetSetRequest request{.facts = template_request(made.measurement, options.made.project,
                                                    made.made.shrinkage, choices, now),
                          .vessel = made.vessel,
                          .choices = options.made.patterns,
                          .kinds = options.kinds,
                          .section_scale = options.section_scale};
  TemplateRequest& facts = request.facts;
  facts.clay_name = made.made.clay_name;
  facts.stage = made.made.stage;
  facts.printer = *printer;
  facts.printer_name = options.printer;
  if (options.most_pages) facts.most_pages = static_cast<int>(*options.most_pages);
  if (options.all) leave_out(request, made.doubts);
  if (options.bench) {
    Result<BenchSheet> bench =
        bench_page_request(made.measurement, own_clay_book(), options.made.wall_mm,
                           options.made.patterns.cradle_mm, options.made.unit);
    if (bench.ok()) {
      request.bench = std::move(bench).value();
    } else if (!options.all) {
      return fail("", bench.problem());
    } else {
      made.doubts.push_back("Bench sheet left out: " + on_one_line(bench.problem().what));
    }
  }
  const Result<SheetPdf> pdf = sheet_set(request);
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

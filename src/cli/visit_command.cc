// SPDX-License-Identifier: MIT
#include "cli/commands.h"
#include "cli/visit_options.h"
#include "project/sheet_request.h"
#include "sheets/visit_sheet.h"

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Writes a page to take along to the museum: what to photograph, what to do where no card may be
placed, what to write down, and a card of known size to cut out.

Usage: potshadow visit --output FILE.pdf [--paper PAPER]

  --output FILE.pdf  the page; '-' stands for standard output
  --paper PAPER      a4, a3, letter, legal or tabloid; a4 if not given
  --help             show this text

Example:
  potshadow visit --output museum.pdf
)";

constexpr const char* kSeeHelp = "Run 'potshadow visit --help' to see how it is used.";

}  // namespace

std::variant<VisitOptions, VisitHelp, UsageProblem> parse_visit_arguments(
    const std::vector<std::string>& arguments) {
  Typed output, paper;
  const OptionSlots slots{{{"--output", &output}, {"--paper", &paper}}};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return VisitHelp{kHelp};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  VisitOptions options{reading.output(output), reading.paper(paper)};
  if (reading.wrong()) return *reading.wrong();
  return options;
}

ExitCode run_visit(const VisitOptions& options, std::chrono::system_clock::time_point now) {
  const auto fail = [](const Problem& problem) {
    print_problem("", problem);
    return exit_code_of(problem);
  };
  const Result<SheetPdf> pdf = visit_sheet({options.paper, iso_date(now)});
  if (!pdf) return fail(pdf.problem());
  const Result<Done> written = write_output(options.output_file, pdf->bytes, {});
  if (!written) return fail(written.problem());
  if (options.output_file == kStandardOutput) return ExitCode::kDone;
  std::string said = "Wrote " + on_one_line(options.output_file) +
                     ": the page for the museum.\nPrint it at 100 %, and measure the card before "
                     "you cut it out.\n";
  for (const Note& note : pdf.notes()) said += "! " + on_one_line(note.text) + "\n";
  const Result<Done> printed = print_text(said);
  return printed.ok() ? ExitCode::kDone : fail(printed.problem());
}

}  // namespace potshadow

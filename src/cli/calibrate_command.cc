// SPDX-License-Identifier: MIT
#include <string>
#include <vector>

#include "cli/commands.h"
#include "cli/sibling_program.h"
#include "project/sheet_request.h"
#include "sheets/board_sheet.h"

namespace potshadow {
namespace {

ExitCode write_board(const CalibrateOptions& options, std::chrono::system_clock::time_point now) {
  const auto fail = [](const Problem& problem) {
    print_problem("", problem);
    return exit_code_of(problem);
  };
  const Result<SheetPdf> pdf = board_sheet({options.paper, iso_date(now)});
  if (!pdf) return fail(pdf.problem());
  const Result<Done> written = write_output(options.board_file, pdf->bytes, {});
  if (!written) return fail(written.problem());
  if (options.board_file == kStandardOutput) return ExitCode::kDone;
  std::string said = "Wrote " + on_one_line(options.board_file) +
                     ": the board on one page at true size.\nPrint it at 100 %, lay a ruler on the "
                     "check bars, and stick it flat on glass or a stiff board.\n";
  for (const Note& note : pdf.notes()) said += "! " + on_one_line(note.text) + "\n";
  const Result<Done> printed = print_text(said);
  return printed.ok() ? ExitCode::kDone : fail(printed.problem());
}

}  // namespace

ExitCode run_calibrate(const CalibrateOptions& options, std::chrono::system_clock::time_point now) {
  if (!options.board_file.empty()) return write_board(options, now);
  std::vector<std::string> arguments{
      "calibrate", "--inner", std::to_string(options.columns) + "x" + std::to_string(options.rows),
      "--square", options.square_text};
  if (options.save) arguments.emplace_back("--save");
  arguments.emplace_back("--");
  arguments.insert(arguments.end(), options.pictures.begin(), options.pictures.end());
  return become_picture_program(arguments);
}

}  // namespace potshadow

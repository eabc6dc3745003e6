// SPDX-License-Identifier: MIT
// The program's way in from the command line.
#include <csignal>
#include <exception>
#include <new>

#include "cli/commands.h"
#include "cli/console.h"
#include "cli/options.h"
#include "core/freed_memory.h"

namespace potshadow {
namespace {

ExitCode run(const Command& command) {
  if (const auto* measure = std::get_if<MeasureOptions>(&command)) return run_measure(*measure);
  if (const auto* sheet = std::get_if<SheetOptions>(&command)) {
    return run_sheet(*sheet, time_for_sheets());
  }
  if (const auto* calibrate = std::get_if<CalibrateOptions>(&command)) {
    return run_calibrate(*calibrate, time_for_sheets());
  }
  if (const auto* trace = std::get_if<TraceOptions>(&command)) return run_trace(*trace);
  if (const auto* clay = std::get_if<ClayOptions>(&command)) {
    return run_clay(*clay, time_for_sheets());
  }
  if (const auto* plan = std::get_if<PlanOptions>(&command)) return run_plan(*plan);
  if (const auto* compare = std::get_if<CompareOptions>(&command)) {
    return run_compare(*compare, time_for_sheets());
  }
  if (const auto* check = std::get_if<CheckOptions>(&command)) {
    return run_check(*check, time_for_sheets());
  }
  if (const auto* printer = std::get_if<PrinterOptions>(&command)) return run_printer(*printer);
  if (const auto* out = std::get_if<ExportOptions>(&command)) return run_export(*out);
  if (const auto* unroll = std::get_if<UnrollOptions>(&command)) return run_unroll(*unroll);
  if (const auto* visit = std::get_if<VisitOptions>(&command)) {
    return run_visit(*visit, time_for_sheets());
  }
  if (const auto* window = std::get_if<WindowOptions>(&command)) return run_window(*window);
  if (const auto* wrong = std::get_if<WrongUsage>(&command)) {
    print_problem("", wrong->what, wrong->next);
    return ExitCode::kWrongInput;
  }
  const Result<Done> printed = print_text(std::get<ShowText>(command).text);
  if (printed.ok()) return ExitCode::kDone;
  print_problem("", printed.problem());
  return exit_code_of(printed.problem());
}

}  // namespace
}  // namespace potshadow

int main(int argc, char** argv) {
  using namespace potshadow;
  // A file size limit is then an error that can be reported, not a sudden end.
  std::signal(SIGXFSZ, SIG_IGN);
  keep_freed_memory();
  ExitCode code = ExitCode::kWrongInput;
  try {
    code = run(parse_arguments({argv + (argc > 0 ? 1 : 0), argv + argc}));
  } catch (const std::bad_alloc&) {
    print_problem("", "There was not enough memory.", "Close other programs and try again.");
  } catch (const std::exception& error) {
    print_problem("", std::string("Something unforeseen went wrong (") + error.what() + ").",
                  "Please report this with the project that caused it.");
  }
  return static_cast<int>(code);
}

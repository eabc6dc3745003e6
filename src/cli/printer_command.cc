// SPDX-License-Identifier: MIT
#include <optional>
#include <utility>

#include "cli/commands.h"
#include "cli/printer_options.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr const char* kHelp =
    R"(Keeps what your printers make of a length, so that sheets can make up for it. Print any sheet, and
measure its bars of 100 mm: the lying one is across an upright page, the standing one along it. On a
page that lies on its long side it is the other way round.

Usage: potshadow printer
       potshadow printer NAME --across MM --along MM [--corrected]
       potshadow printer NAME --forget

  NAME         what you call the printer
  --across MM  what 100 mm measure along the paper's short side
  --along MM   what 100 mm measure along its long side
  --corrected  the bars are those of a sheet that made up for this printer already
  --forget     forgets the printer
  --help       show this text

Without a name it lists the printers. Measure with a steel rule to a tenth of a millimetre; over all
the bars of a page if you can.

Examples:
  potshadow printer studio --across 99.1 --along 98.6
  potshadow sheet shelf-jar.potshadow --output jar.pdf --printer studio
  potshadow printer studio --across 100.2 --along 100.0 --corrected
)";

constexpr const char* kSeeHelp = "Run 'potshadow printer --help' to see how it is used.";

std::string line_of(const OwnPrinter& printer) {
  return on_one_line(printer.name) + ": 100 mm come out as " +
         fixed_text(100.0 * printer.scale.across, 2) + " mm across and " +
         fixed_text(100.0 * printer.scale.along, 2) + " mm along the paper.\n";
}

}  // namespace

std::variant<PrinterOptions, PrinterHelp, UsageProblem> parse_printer_arguments(
    const std::vector<std::string>& arguments) {
  std::vector<std::string> names;
  Typed across, along;
  PrinterOptions options;
  const OptionSlots slots{{{"--across", &across}, {"--along", &along}},
                          {{"--corrected", &options.corrected}, {"--forget", &options.forget}},
                          &names};
  std::optional<UsageProblem> wrong;
  if (read_options(slots, arguments, kSeeHelp, wrong) == LineRead::kHelpWanted) {
    return PrinterHelp{kHelp};
  }
  if (wrong) return *wrong;
  OptionReader reading(kSeeHelp);
  const std::optional<double> across_mm = reading.number("--across", across);
  const std::optional<double> along_mm = reading.number("--along", along);
  if (across_mm && along_mm) options.bars = MeasuredBars{*across_mm, *along_mm};
  if (!names.empty()) options.name = reading.one_name(names, "printer");
  const bool asks = across || along || options.corrected || options.forget;
  if (options.name.empty() && (asks || !names.empty())) {
    reading.complain("It was not said which printer is meant.", "Give it a name of your own.");
  }
  if (!options.name.empty() && options.forget == (across || along)) {
    reading.complain("It was not said what to do with the printer.",
                     "Add what its bars measured as --across and --along, or --forget.");
  }
  if (across.has_value() != along.has_value()) {
    reading.complain("Only one of --across and --along was given.",
                     "Measure both bars: printers differ in their two directions.");
  }
  if (reading.wrong()) return *reading.wrong();
  return options;
}

ExitCode run_printer(const PrinterOptions& options) {
  const auto fail = [](const Problem& problem) {
    print_problem("", problem);
    return exit_code_of(problem);
  };
  const Result<UserFolders> folders = user_folders();
  if (!folders) return fail(folders.problem());
  // A book that is only shown needs no lock, and no folder.
  std::optional<FileLock> held;
  if (!options.name.empty()) {
    Result<FileLock> lock = lock_printer_book(*folders);
    if (!lock) return fail(lock.problem());
    held.emplace(std::move(lock).value());
  }
  const Result<PrinterBook> loaded = load_printer_book(*folders);
  if (!loaded) return fail(loaded.problem());
  PrinterBook book = *loaded;
  std::string said;
  if (options.name.empty()) {
    for (const OwnPrinter& printer : book.printers) said += line_of(printer);
    if (book.printers.empty()) said = "No printer is kept yet.\n";
  } else {
    const OwnPrinter* known = find_printer(book, options.name);
    if (known == nullptr && (options.forget || options.corrected)) {
      return fail({Code::kBadValue, "There is no printer '" + options.name + "'.",
                   "Run 'potshadow printer' to see which are kept.", ""});
    }
    if (options.forget) {
      book = without_printer(book, options.name);
      said = "Forgot " + on_one_line(options.name) + ".\n";
    } else {
      const Result<PrinterScale> scale =
          printer_from_bars(*options.bars, options.corrected ? known->scale : PrinterScale());
      if (!scale) return fail(scale.problem());
      book = with_printer(book, options.name, *scale);
      said = line_of(*find_printer(book, options.name)) + "Sheets make up for it with --printer " +
             on_one_line(options.name) + ".\n";
    }
    const Result<Done> saved = save_printer_book(book, *folders);
    if (!saved) return fail(saved.problem());
  }
  const Result<Done> printed = print_text(said);
  return printed.ok() ? ExitCode::kDone : fail(printed.problem());
}

}  // namespace potshadow

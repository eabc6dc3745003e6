// SPDX-License-Identifier: MIT
#include <algorithm>

#include "desktop/window/kit.h"
#include "desktop/window/sheet_panel.h"
#include "desktop/words/print_words.h"
#include "desktop/words/template_words.h"

namespace potshadow {
namespace {

constexpr const char* kNoPrinter = "One that prints true";

void measure_printer(Frame& frame) {
  SheetState& state = frame.state.sheets;
  const std::string& made_for = frame.settings.print.printer;
  kit::note(frame, bars_sentence(made_for));
  kit::live_text(frame, "Printer's name", state.printer_name,
                 {.tooltip = "Whatever you call it.", .hint = made_for});
  const std::string& name = state.printer_name.empty() ? made_for : state.printer_name;
  const auto bar = [&](const char* label, std::optional<double>& mm) {
    const auto typed =
        kit::number(frame, label, mm,
                    {.unit = "mm",
                     .tooltip = "What 100 mm measure; a tenth of a millimetre counts.",
                     .hint = "100"});
    if (typed) mm = *typed;
  };
  bar("Bar across", state.across_mm);
  bar("Bar along", state.along_mm);
  if (state.printer_trouble) kit::problem(frame, *state.printer_trouble);
  if (kit::button(frame, "Keep this printer",
                  {.enabled = !name.empty() && state.across_mm && state.along_mm,
                   .reason = "Give it a name and what both bars measured.",
                   .tooltip = "Sheets then make up for what it does to lengths."})) {
    frame.ask(KeepPrinter{name, {*state.across_mm, *state.along_mm}, made_for});
  }
}

}  // namespace

void paper_choice(Frame& frame) {
  kit::heading(frame, "Paper");
  std::vector<std::string> papers;
  for (const Paper each : kPapers) papers.emplace_back(paper_name(each));
  const auto paper =
      kit::list(frame, "Size", papers, static_cast<std::size_t>(frame.settings.paper), "");
  if (paper && kPapers.at(*paper) != frame.settings.paper) {
    Settings settings = frame.settings;
    settings.paper = kPapers.at(*paper);
    frame.ask(ChangeSettings{settings});
  }
  std::vector<std::string> ways;
  for (const PageWay each : kPageWays) ways.emplace_back(page_way_title(each));
  PrintSettings print = frame.settings.print;
  const auto way = kit::list(frame, "Way up", ways, static_cast<std::size_t>(print.way),
                             "How pages lie. The bench sheet always stands upright.");
  if (!way || kPageWays.at(*way) == print.way) return;
  print.way = kPageWays.at(*way);
  change_print(frame, print);
}

void printer_choice(Frame& frame) {
  const PrinterDesk& desk = frame.session.printers();
  PrintSettings print = frame.settings.print;
  std::vector<std::string> names{kNoPrinter};
  std::size_t now = 0;
  for (const OwnPrinter& printer : desk.book().printers) {
    if (printer.name == print.printer) now = names.size();
    names.push_back(printer.name);
  }
  if (!print.printer.empty() && now == 0) {  // it was forgotten elsewhere
    now = names.size();
    names.push_back(print.printer);
  }
  kit::heading(frame, "Printer");
  const auto picked = kit::list(frame, "Sheets are for", names, now,
                                "Printers stretch or shrink a page by a percent or so; sheets make "
                                "up for it once its bars are measured.");
  if (desk.problem()) kit::problem(frame, *desk.problem());
  if (picked && *picked != now) {
    print.printer = *picked == 0 ? "" : names[*picked];
    change_print(frame, print);
  }
  if (const OwnPrinter* printer = find_printer(desk.book(), print.printer)) {
    kit::note(frame, printer_sentence(*printer));
    if (kit::link(frame, "Forget this printer", "Takes it out of your printers.")) {
      frame.ask(ForgetPrinter{printer->name});
    }
  }
  if (kit::fold(frame, "Measure a printer")) measure_printer(frame);
}

}  // namespace potshadow

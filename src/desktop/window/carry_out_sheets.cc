// SPDX-License-Identifier: MIT
#include "desktop/window/carry_out.h"

namespace potshadow {

void Foreman::save_sheet(const SaveSheet& save) {
  const Result<Done> begun = session_.save_sheet(save.format, save.part, save.file);
  if (!begun) {
    complain(begun.problem());
    return;
  }
  state_.middle = Middle::kPhoto;
}

// What was written in the background is told once.
void Foreman::tell_saved_sheet() {
  const SheetSaving& saving = session_.sheet_saving();
  if (state_.sheets.told == saving.news) return;
  state_.sheets.told = saving.news;
  if (saving.problem) {
    complain(*saving.problem);
    return;
  }
  state_.sheets.file = saving.file;
  say(saving.said);
}

void Foreman::keep_printer(const KeepPrinter& keep) {
  SheetState& state = state_.sheets;
  state.printer_trouble.reset();
  const Result<Done> kept = session_.keep_printer(keep.name, keep.bars, keep.drawn_for);
  if (!kept) {
    state.printer_trouble = kept.problem();
    return;
  }
  state.printer_name.clear();
  state.across_mm.reset();
  state.along_mm.reset();
  Settings settings = settings_;
  settings.print.printer = keep.name;
  change(settings);
  say("Sheets now make up for '" + keep.name + "'. Print one and measure its bars once more.");
}

void Foreman::forget_printer(const std::string& name) {
  const Result<Done> forgotten = session_.forget_printer(name);
  if (!forgotten) {
    complain(forgotten.problem());
    return;
  }
  if (settings_.print.printer != name) return;
  Settings settings = settings_;
  settings.print.printer.clear();
  change(settings);
}

}  // namespace potshadow

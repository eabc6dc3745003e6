// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>

#include "desktop/window/drawable.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/sheet_panel.h"
#include "desktop/words/cautions.h"
#include "desktop/words/print_words.h"
#include "desktop/words/template_words.h"

namespace potshadow {
namespace {

// How the drawing goes, and what stands against it.
void drawing(Frame& frame, const SheetView& sheet) {
  if (sheet.pages_asked) {
    kit::doubt(frame, many_sheets_question(*sheet.pages_asked));
    if (kit::button(frame, "Draw all " + std::to_string(*sheet.pages_asked),
                    {.tooltip = "If that is how big the pot is meant to be."})) {
      frame.state.sheets.most_pages = *sheet.pages_asked;
    }
  } else if (sheet.problem) {
    kit::problem(frame, *sheet.problem);
  }
  if (sheet.stopped) {
    kit::note(frame, "Stopped before it was drawn.");
    if (kit::button(frame, "Draw it after all")) frame.ask(GoOnWithSheet{});
  }
  if (kit::busy(frame, sheet.busy, "Leaves it undrawn; what was shown before stays.")) {
    frame.ask(StopSheet{});
  }
  for (const Note& note : sheet.notes) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
  }
  if (frame.session.figures().measurement->answer.scale == ScaleSource::kGuess) {
    kit::doubt(frame,
               "Its size is a guess: the form is right, how big it is only as right as the guess.");
  }
}

void save_buttons(Frame& frame, const SheetView& sheet) {
  const std::vector<SheetFormat> formats = formats_of(frame.settings.print.printed);
  const double half = 0.5 * (ImGui::GetContentRegionAvail().x / frame.look.scale - 8.0);
  for (std::size_t i = 0; i < formats.size(); ++i) {
    const SheetFormat format = formats[i];
    if (i > 0 && i % 2 == 0) ImGui::SameLine();
    if (kit::button(frame, (i == 0 ? "Save " : "") + std::string(format_title(format)),
                    {.enabled = sheet.current,
                     .reason = sheet.problem ? "There is nothing to save: " + sheet.problem->what
                                             : "It is not drawn yet.",
                     .tooltip = std::string(format_note(format)),
                     .accent = i == 0,
                     .width = i == 0 || formats.size() == 2 ? -1.0 : half})) {
      frame.state.browser.sheet_format = format;
      open_browser(frame, BrowsePurpose::kSaveSheet);
    }
  }
}

void saving(Frame& frame, const SheetView& sheet) {
  kit::space(frame);
  save_buttons(frame, sheet);
  const SheetSaving& written = frame.session.sheet_saving();
  ImGui::PushID("saving");  // both works can be stopped
  if (kit::busy(frame, written.busy, "Leaves the file unwritten.")) frame.ask(StopSavingSheet{});
  ImGui::PopID();
  if (written.problem) kit::problem(frame, *written.problem);
  const std::filesystem::path& file = frame.state.sheets.file;
  if (file.empty() || written.busy || written.problem) return;
  if (kit::button(frame, "Open it",
                  {.tooltip = "Shows " + file.filename().string() +
                              " in the program that your desktop has for it."})) {
    frame.ask(ViewSheet{});
  }
  kit::note(frame, "Saved as " + file.filename().string());
}

}  // namespace

void templates_panel(Frame& frame) {
  if (not_drawable_yet(frame, "template")) return;
  const SheetView& sheet = frame.session.sheet();
  choose_printed(frame);
  drawing(frame, sheet);
  saving(frame, sheet);
  page_map(frame);
  sheet_choices(frame);
  paper_choice(frame);
  printer_choice(frame);
  kit::heading(frame, "Printing");
  for (const std::string& advice : printing_advice(static_cast<int>(sheet.pages.size()))) {
    kit::note(frame, advice);
  }
  kit::space(frame);
  if (kit::fold(frame, "Take care##templates", true)) {
    for (const std::string_view caution : cautions_for(Step::kTemplates)) {
      kit::note(frame, std::string(caution));
    }
  }
}

}  // namespace potshadow

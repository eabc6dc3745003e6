// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>

#include "desktop/window/drawable.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/cautions.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/template_words.h"

namespace potshadow {
namespace {

void paper(Frame& frame) {
  kit::heading(frame, "Paper");
  for (const Paper choice : kPapers) {
    const bool chosen = frame.settings.paper == choice;
    if (kit::choice(frame, std::string(paper_name(choice)), chosen) && !chosen) {
      Settings settings = frame.settings;
      settings.paper = choice;
      frame.ask(ChangeSettings{settings});
    }
  }
}

void pages(Frame& frame, int count) {
  int& page = frame.state.sheet_page;
  page = std::clamp(page, 0, count - 1);
  kit::heading(frame, counted(static_cast<std::size_t>(count), "page", "pages"));
  kit::note(frame, page_words(page, count));
  if (count == 1) return;
  const double half = 0.5 * (ImGui::GetContentRegionAvail().x / frame.look.scale - 8.0);
  if (kit::button(frame, "Previous",
                  {.enabled = page > 0,
                   .reason = "This is the first page.",
                   .tooltip = "The page before (Page Up)",
                   .width = half})) {
    --page;
  }
  ImGui::SameLine();
  if (kit::button(frame, "Next",
                  {.enabled = page + 1 < count,
                   .reason = "This is the last page.",
                   .tooltip = "The page after (Page Down)",
                   .width = half})) {
    ++page;
  }
}

void saving(Frame& frame, const SheetView& sheet) {
  const bool ready = sheet.pdf != nullptr && sheet.current;
  kit::space(frame);
  if (kit::button(frame, "Save template",
                  {.enabled = ready,
                   .reason = sheet.problem ? "There is no template yet: " + sheet.problem->what
                                           : "The template is being drawn.",
                   .tooltip = "As a PDF, to be printed at 100 %.",
                   .accent = true})) {
    open_browser(frame, BrowsePurpose::kSaveSheet);
  }
  const std::filesystem::path& file = frame.state.sheet_file;
  if (kit::button(frame, "Open it",
                  {.enabled = !file.empty(),
                   .reason = "Save the template first.",
                   .tooltip = "Shows the saved template in the program for PDF files, to print it "
                              "from there."})) {
    frame.ask(ViewSheet{});
  }
  if (!file.empty()) kit::note(frame, "Saved as " + file.filename().string());
}

}  // namespace

void templates_panel(Frame& frame) {
  if (not_drawable_yet(frame, "template")) return;
  const SheetView& sheet = frame.session.sheet();
  if (sheet.problem) kit::problem(frame, *sheet.problem);
  kit::busy(frame, sheet.busy);
  for (const Note& note : sheet.notes) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
  }
  if (frame.session.figures().measurement->answer.scale == ScaleSource::kGuess) {
    kit::doubt(frame,
               "Its size is a guess: the form is right, how big it is only as right as the guess.");
  }
  saving(frame, sheet);
  const int count = static_cast<int>(sheet.pages.size());
  if (count > 0) pages(frame, count);
  paper(frame);
  kit::heading(frame, "Printing");
  for (const std::string& advice : printing_advice(std::max(count, 1))) kit::note(frame, advice);
  kit::space(frame);
  if (kit::fold(frame, "Take care##templates", true)) {
    for (const std::string_view caution : cautions_for(Step::kTemplates)) {
      kit::note(frame, std::string(caution));
    }
  }
}

}  // namespace potshadow

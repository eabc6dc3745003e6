// SPDX-License-Identifier: MIT
#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

#include "desktop/window/drawable.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/cautions.h"
#include "desktop/words/check_words.h"
#include "desktop/words/stage_words.h"
#include "project/clay_text.h"
#include "project/sheet_request.h"

namespace potshadow {
namespace {

void stage(Frame& frame) {
  std::vector<std::string> entries;
  for (const Stage each : kStages) entries.push_back(stage_title(each));
  const auto now = static_cast<std::size_t>(
      std::find(kStages.begin(), kStages.end(), frame.state.check.stage) - kStages.begin());
  const auto picked = kit::list(frame, "The pot is", entries, now,
                                "What it must measure depends on how far it has dried.");
  if (!picked) return;
  frame.state.check.stage = kStages.at(*picked);
  frame.state.check.trouble.reset();
}

// A photograph of the pot, measured like the original's, as further evidence.
void photograph(Frame& frame) {
  const BenchPhotoView& photo = frame.session.bench_photo();
  kit::heading(frame, "From a photograph");
  if (photo.file.empty()) {
    kit::note(
        frame,
        "Photograph your pot with a card beside it, mark it in a project of its own, and save "
        "that. Its sizes then count here beside what is typed.");
    if (kit::button(frame, "Use a photograph of it")) {
      open_browser(frame, BrowsePurpose::kBenchPhoto);
    }
    return;
  }
  kit::note(frame, photo.file.filename().string());
  kit::busy(frame, photo.busy);
  if (photo.problem) kit::problem(frame, *photo.problem);
  const CheckView& view = frame.session.check();
  if (photo.measurement != nullptr && view.answer &&
      kit::button(frame, "Keep these sizes",
                  {.tooltip = "Writes them into this project, so that later stages can be held to "
                              "them.",
                   .accent = true})) {
    frame.ask(
        Perform{SetBench{bench_record(*view.answer, iso_date(std::chrono::system_clock::now()))}});
    frame.ask(DropBenchPhoto{});
    kit::say(frame, "The sizes from the photograph are kept in the project. Undo takes them out.");
  }
  if (kit::button(frame, "Leave the photograph out")) frame.ask(DropBenchPhoto{});
}

// What this pot has really shrunk by, for the record of its clay.
void shrunk_by(Frame& frame) {
  const CheckView& view = frame.session.check();
  if (view.evidence_problem) kit::problem(frame, *view.evidence_problem);
  const PotEvidence& evidence = view.evidence;
  if (evidence.stages.empty()) return;
  kit::heading(frame, "What it shrank by");
  for (const StageEvidence& each : evidence.stages) kit::note(frame, evidence_sentence(each));
  for (const Note& note : view.evidence_notes) kit::doubt(frame, note.text);
  const std::vector<ClayBody>& bodies = frame.session.clays().book().bodies;
  const ClayBody* const now = evidence.body ? body_in(bodies, evidence.body->record) : nullptr;
  const bool there = now != nullptr && now->pots == evidence.body->pots;
  if (now != nullptr && evidence.without && evidence.with && !there) {
    kit::note(frame, "The record says " + percent_words(evidence.without->total.shrinkage) +
                         " in all, and with this pot " +
                         percent_words(evidence.with->total.shrinkage) + ".");
  }
  if (kit::button(frame, "Tell the clay's record",
                  {.enabled = now != nullptr && !there,
                   .reason = there ? "The record has it already."
                                   : "Choose a clay of your book in the Clay step first.",
                   .tooltip = "It counts beside the test bars, not as one of them.",
                   .accent = true})) {
    frame.ask(PutClay{*evidence.body,
                      "Tell '" + now->record + "' what '" + frame.session.title() + "' shrank by"});
    kit::say(frame, "The clay's record now counts this pot too. Its bars stay as they are.");
  }
  if (there) kit::note(frame, "The record of '" + now->record + "' counts this pot.");
}

}  // namespace

void check_panel(Frame& frame) {
  if (not_drawable_yet(frame, "check")) return;
  stage(frame);
  if (const CheckView& view = frame.session.check(); view.answer) {
    if (kit::button(frame, "Copy as text", {.tooltip = "The whole check on the clipboard."})) {
      frame.ask(CopyText{bench_text(*frame.session.figures().measurement, *view.answer,
                                    view.evidence, frame.session.title(), frame.settings.unit),
                         "Copied the check as text."});
    }
  }
  shrunk_by(frame);
  photograph(frame);
  kit::space(frame);
  if (kit::fold(frame, "Take care##check", true)) {
    for (const std::string_view caution : cautions_for(Step::kCheck)) {
      kit::note(frame, std::string(caution));
    }
  }
}

}  // namespace potshadow

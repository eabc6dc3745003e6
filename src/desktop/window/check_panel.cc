// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>
#include <vector>

#include "desktop/window/drawable.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/cautions.h"
#include "desktop/words/check_words.h"
#include "desktop/words/stage_words.h"
#include "project/clay_text.h"

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
  const CheckView& view = frame.session.check();
  kit::space(frame);
  if (view.problem) {
    kit::problem(frame, *view.problem);
  } else if (view.answer) {
    kit::words(frame, pot_sentence(*view.answer));
  } else {
    kit::words(frame, "Measure one diameter or more on the pot, and type it on the page.");
  }
  if (view.answer) {
    if (kit::button(frame, "Copy as text", {.tooltip = "The whole check on the clipboard."})) {
      frame.ask(CopyText{bench_text(*frame.session.figures().measurement, *view.answer,
                                    view.evidence, frame.session.title(), frame.settings.unit),
                         "Copied the check as text."});
    }
  }
  shrunk_by(frame);
  kit::space(frame);
  if (kit::fold(frame, "Take care##check", true)) {
    for (const std::string_view caution : cautions_for(Step::kCheck)) {
      kit::note(frame, std::string(caution));
    }
  }
}

}  // namespace potshadow

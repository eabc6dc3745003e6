// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "desktop/session/comparer.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/words/cautions.h"
#include "desktop/words/stage_words.h"

namespace potshadow {
namespace {

void choose_other(Frame& frame, bool adding) {
  frame.state.compare.adding = adding;
  open_browser(frame, BrowsePurpose::kCompareWith);
}

// The stage in a list; `pick` is called with another one.
template <typename Pick>
void stage_list(Frame& frame, const std::string& label, Stage now, const char* tooltip,
                const Pick& pick) {
  std::vector<std::string> entries;
  for (const Stage each : kStages) entries.push_back(stage_title(each));
  const auto at =
      static_cast<std::size_t>(std::find(kStages.begin(), kStages.end(), now) - kStages.begin());
  if (const auto picked = kit::list(frame, label, entries, at, tooltip)) pick(kStages.at(*picked));
}

constexpr const char* kStageTip =
    "A pot that is not fired yet is compared as it will be when its clay has shrunk. A text may "
    "say "
    "a stage of its own.";

void other_pots(Frame& frame) {
  CompareWish& wish = frame.state.compare.wish;
  kit::heading(frame, wish.others.size() > 1 ? "The pots made after it" : "The other pot");
  if (wish.others.empty()) {
    kit::note(frame,
              "Photograph it with something of known size beside it, mark it in a project of its "
              "own, and save that. A text of its sizes or of a drawn outline will do as well.");
    if (kit::button(frame, "Choose the other pot", {.accent = true})) choose_other(frame, false);
    if (kit::button(frame, "Use the bench sizes",
                    {.enabled = !frame.document().bench.empty(),
                     .reason = "Keep its sizes in the Check step first.",
                     .tooltip = "The sizes that you measured on the bench, at each stage."})) {
      wish.others = {{.on_bench = true}};
    }
    return;
  }
  const bool series = wish.others.size() > 1;
  std::optional<std::size_t> left_out;
  for (std::size_t i = 0; i < wish.others.size(); ++i) {
    OtherPot& pot = wish.others[i];
    const std::string name =
        pot.on_bench ? "The pot of the Check step" : pot.file.filename().string();
    const std::string id = "##other" + std::to_string(i);
    kit::words(frame, name);
    if (!wish.open_is_replica && !pot.on_bench) {
      stage_list(frame,
                 (series ? "Measured " + std::to_string(i + 1) : "The replica was measured") + id,
                 pot.stage, kStageTip, [&](Stage stage) { pot.stage = stage; });
    }
    if (series && kit::link(frame, "Leave it out" + id)) left_out = i;
    if (series) kit::space(frame, 4);
  }
  if (left_out) wish.others.erase(wish.others.begin() + static_cast<std::ptrdiff_t>(*left_out));
  if (!series) {
    if (kit::button(frame, "Choose another")) choose_other(frame, false);
    if (kit::button(frame, "Leave it out")) wish.others.clear();
  }
  if (kit::button(frame, "Add one more pot",
                  {.enabled = !wish.open_is_replica,
                   .reason = "Several are held against the open project's pot as their original.",
                   .tooltip = "Several pots, or one at several stages, are a series: what each "
                              "became, what it shrank by, and how large to make the next."})) {
    choose_other(frame, true);
  }
}

void roles(Frame& frame) {
  CompareWish& wish = frame.state.compare.wish;
  if (wish.others.size() == 1) {
    const std::vector<std::string> entries{"The original", "The replica"};
    const auto role = kit::list(frame, "The open project is", entries, wish.open_is_replica ? 1 : 0,
                                "What is said is said of the replica, held against the original.");
    if (role) wish.open_is_replica = *role == 1;
    if (wish.open_is_replica) {
      stage_list(frame, "The replica was measured##open", wish.open_stage, kStageTip,
                 [&](Stage stage) { wish.open_stage = stage; });
    }
  }
  stage_list(frame, "Compared as they are when", wish.at,
             "Each is brought to that stage by what its clay shrinks. A fired original is taken "
             "back as if it were of the replica's clay.",
             [&](Stage stage) { wish.at = stage; });
}

void files(Frame& frame) {
  const ComparisonView& view = frame.session.comparison();
  const bool ready = view.work != nullptr && view.current && !view.saving;
  const std::string wait = "Wait until the pots have been compared.";
  const auto save = [&](const char* label, ComparisonPart part, bool there, const char* reason,
                        const char* tooltip, bool accent) {
    if (!kit::button(frame, label,
                     {.enabled = ready && there,
                      .reason = ready ? reason : wait,
                      .tooltip = tooltip,
                      .accent = accent})) {
      return;
    }
    frame.state.compare.saving = part;
    open_browser(frame, BrowsePurpose::kSaveComparison);
  };
  kit::heading(frame, "To keep");
  save("Save the sheet", ComparisonPart::kSheet, true, "",
       "A PDF: the words, the outlines, the sizes, and two pots' photographs.", true);
  const bool series = ready && view.work->series.has_value();
  const bool drawn = series || (ready && view.work->comparison->shape.has_value());
  save("Save the drawing", ComparisonPart::kDrawing, drawn,
       "There are no two outlines to draw over each other.",
       "The outlines as SVG: of two pots at true size with their gap, of a series in small.",
       false);
  save("Save the picture", ComparisonPart::kPicture,
       series || (ready && view.work->photos != nullptr),
       "There are no two photographs to lay over each other.",
       "A PNG: one photograph over the other as it is shown, or the drawing of a series.", false);
  if (kit::button(frame, "Copy as text",
                  {.enabled = ready, .reason = wait, .tooltip = "All of it on the clipboard."})) {
    const LengthUnit unit = frame.settings.unit;
    frame.ask(CopyText{series ? series_text(*view.work->series, unit)
                              : comparison_text(*view.work->comparison, unit),
                       "Copied the comparison as text."});
  }
  kit::busy(frame, view.saving);
  if (view.save_problem) kit::problem(frame, *view.save_problem);
  if (!view.saved.empty()) {
    kit::note(frame, "Saved as '" + view.saved.filename().string() + "'.");
  }
}

}  // namespace

void compare_panel(Frame& frame) {
  if (!frame.session.open()) {
    kit::words(frame, "Open a photograph first.");
    return;
  }
  other_pots(frame);
  if (!frame.state.compare.wish.others.empty()) {
    roles(frame);
    const ComparisonView& view = frame.session.comparison();
    kit::busy(frame, view.busy);
    if (view.problem) kit::problem(frame, *view.problem);
    files(frame);
  }
  kit::space(frame);
  if (kit::fold(frame, "Take care##compare", true)) {
    for (const std::string_view caution : cautions_for(Step::kCompare)) {
      kit::note(frame, std::string(caution));
    }
  }
}

}  // namespace potshadow

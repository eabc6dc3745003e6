// SPDX-License-Identifier: MIT
#include <string>
#include <vector>

#include "clay/body_figures.h"
#include "desktop/window/clay_views.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/table.h"
#include "desktop/window/work_state.h"
#include "desktop/words/clay_book_words.h"
#include "desktop/words/figures_words.h"
#include "desktop/words/stage_words.h"

namespace potshadow {
namespace {

void pages(Frame& frame) {
  ClayPageState& state = frame.state.clays;
  const auto page = [&](const char* label, ClayPage which) {
    if (kit::choice(frame, label, state.page == which, {.width = 0.0})) state.page = which;
  };
  page("Sizes at each stage", ClayPage::kStages);
  ImGui::SameLine();
  page("Book of clays", ClayPage::kBook);
  kit::space(frame, 16);
}

// Why there is no table yet, with what to do.
void no_stages(Frame& frame) {
  const ClayWork& work = frame.session.clay_work();
  const Figures& figures = frame.session.figures();
  if (work.problem) {
    kit::problem(frame, clay_problem_words(*work.problem));
  } else if (!work.clay) {
    kit::words(frame,
               "How much your clay shrinks is not known yet. Choose a clay from the book, or type "
               "its shrinkage on the left.");
    if (kit::button(frame, "Open the book of clays", {.accent = true, .width = 0.0})) {
      frame.state.clays.page = ClayPage::kBook;
    }
  } else if (figures.measurement == nullptr) {
    kit::words(frame, "The sizes at each stage stand here once the vessel has been measured.");
  } else {
    kit::words(frame,
               "There are proportions only, for nothing says how big the vessel is. One size is "
               "enough, known or guessed.");
    if (kit::button(frame, "Go to Reference", {.accent = true, .width = 0.0})) {
      frame.state.step = Step::kReference;
    }
  }
}

void stages(Frame& frame) {
  const Figures& figures = frame.session.figures();
  std::vector<StageRow> rows;
  if (figures.measurement != nullptr) rows = stage_rows(*figures.measurement, frame.settings.unit);
  if (rows.empty()) {
    no_stages(frame);
    return;
  }
  const Measurement& measurement = *figures.measurement;
  kit::title(frame, "From wet to fired");
  kit::note(frame,
            "What each size must be at each stage, so that it fires to the original. ± is "
            "the 95 % interval of photograph and clay together.");
  kit::space(frame);
  if (!figures.current) {
    kit::doubt(frame, stale_words(figures.problem ? &*figures.problem : nullptr));
  }
  if (measurement.answer.scale == ScaleSource::kGuess) {
    kit::doubt(frame, "Its size is a guess, and so is every figure here.");
  }
  std::vector<kit::Column> columns{
      {.heading = std::string(unit_name(frame.settings.unit)), .fills = true}};
  for (const Stage stage : kStages) columns.push_back({stage_title(stage), true});
  columns.push_back({"Greater doubt, wet", true});
  std::vector<kit::TableRow> table;
  for (const StageRow& row : rows) {
    kit::TableRow line;
    line.cells.push_back(row.name == SizeName::kCapacity ? row.label + ", ml" : row.label);
    for (std::size_t i = 0; i < row.value.size(); ++i) {
      line.cells.push_back(row.value[i] + " ± " + row.plus_minus[i]);
    }
    line.cells.push_back(row.doubt);
    line.tooltip = std::string(size_lesson(row.name));
    line.quiet = !figures.current;
    table.push_back(std::move(line));
  }
  kit::table(frame, "stages", columns, table);
  kit::note(frame, stage_doubt_sentence(measurement));
  const ClayWork& work = frame.session.clay_work();
  if (!work.clay) return;
  kit::heading(frame, "By this clay");
  std::vector<kit::TableRow> lines;
  const std::size_t shrinkages = work.clay->figures.upright ? 6 : 4;
  for (const ClayFigureLine& figure : clay_figure_lines(work.clay->figures)) {
    if (lines.size() == shrinkages) break;
    lines.push_back({.cells = {figure.label, figure.value, figure.basis, figure.source},
                     .doubtful = figure.estimate});
  }
  kit::table(frame, "clay", {{.heading = "", .width = 180}, {"", true}, {}, {.fills = true}},
             lines);
  for (const Note& note : work.notes) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
  }
}

}  // namespace

void clay_view(Frame& frame) {
  const kit::Page page(frame, "clay page");
  pages(frame);
  if (frame.state.clays.page == ClayPage::kStages) {
    stages(frame);
    return;
  }
  const ClayBody* const body =
      body_in(frame.session.clays().book().bodies, frame.state.clays.record);
  body == nullptr ? clay_list_view(frame) : clay_record_view(frame, *body);
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include <chrono>
#include <string>
#include <vector>

#include "clay/body_figures.h"
#include "desktop/window/clay_views.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/table.h"
#include "desktop/words/clay_book_words.h"
#include "desktop/words/clay_words.h"
#include "desktop/words/figure_text.h"
#include "project/sheet_request.h"

namespace potshadow {
namespace {

void take_back(Frame& frame) {
  const auto words = frame.session.clays().take_back_words();
  if (!words) return;
  if (kit::link(frame, "Take back: " + with_small_start(*words) + "##take back",
                "Puts the book back as it was before.")) {
    frame.ask(TakeBackClay{});
    frame.state.clays.bar.reset();
    frame.state.clays.part.reset();
  }
}

void begin_one(Frame& frame) {
  ClayPageState& state = frame.state.clays;
  kit::heading(frame, "Begin a clay");
  const bool entered = kit::live_text(frame, "What you call it", state.new_name,
                                      {.hint = "Buff mix", .width = 260.0});
  const bool named = state.new_name.find_first_not_of(" \t") != std::string::npos;
  const bool pressed = kit::button(frame, "Begin it",
                                   {.enabled = named,
                                    .reason = "Give it a name first.",
                                    .accent = frame.session.clays().book().bodies.empty(),
                                    .width = 0.0});
  if (!named || (!entered && !pressed)) return;
  ClayBody body;
  body.name = state.new_name;
  body.record = free_record(frame.session.clays().book(), state.new_name);
  state.new_name.clear();
  state.record = body.record;
  frame.ask(PutClay{body, "Begin '" + body.name + "'"});
}

void bars(Frame& frame, const ClayBody& body) {
  ClayPageState& state = frame.state.clays;
  kit::heading(frame, "Test bars");
  kit::note(frame,
            "Two marks on the wet bar, 100 mm apart, measured again when it is dry and when "
            "it is fired. Click a bar to go on with it.");
  std::vector<kit::TableRow> rows;
  int number = 0;
  for (const BarLine& bar : bar_lines(body, frame.settings.unit)) {
    const std::string count = std::to_string(++number);
    const std::size_t index = rows.size();
    rows.push_back({.cells = {count, bar.wet, bar.leather, bar.dry, bar.fired, bar.heat, bar.drying,
                              bar.firing, bar.total, bar.remark},
                    .name = "Bar " + count,
                    .quiet = !bar.used,
                    .chosen = state.bar == index});
  }
  if (!rows.empty()) {
    const std::vector<kit::Column> columns{{"Bar", true},     {"Wet", true},
                                           {"Leather", true}, {"Dry", true},
                                           {"Fired", true},   {"At"},
                                           {"Drying", true},  {"Firing", true},
                                           {"Total", true},   {.heading = "", .fills = true}};
    if (const auto clicked = kit::table(frame, "bars", columns, rows)) {
      if (state.bar == clicked) {
        state.bar.reset();
      } else {
        state.bar = clicked;
      }
      state.trouble.reset();
      state.notes.clear();
    }
  }
  if (state.bar && *state.bar < body.bars.size()) {
    bar_fields(frame, body, *state.bar);
  } else if (!state.part) {
    clay_trouble(frame);
  }
  if (kit::button(
          frame, "Add a bar",
          {.tooltip = "Write down its length wet; the other stages follow as it gets there.",
           .accent = body.bars.empty(),
           .width = 0.0})) {
    ClayBody more = body;
    TestBar bar;
    bar.date = iso_date(std::chrono::system_clock::now());
    more.bars.push_back(bar);
    state.bar = body.bars.size();
    frame.ask(
        PutClay{more, "Add bar " + std::to_string(more.bars.size()) + " of '" + body.record + "'"});
  }
  ImGui::SameLine();
  if (kit::button(frame, "Print a test bar",
                  {.tooltip = "A page with a bar at true size, its two marks 100 mm apart, and a "
                              "table to write in.",
                   .width = 0.0})) {
    open_browser(frame, BrowsePurpose::kSaveBarSheet);
  }
}

void figures(Frame& frame, const ClayBody& body) {
  kit::heading(frame, "What is known of it");
  const auto project = frame.session.open() ? frame.document().clay : std::nullopt;
  std::optional<double> heat;
  if (project && project->record == body.record) heat = project->firing_c;
  const Result<BodyFigures> found = body_figures(body, frame.session.clays().book().bodies, heat);
  if (!found) {
    kit::doubt(frame, clay_standing(body, found));
    return;
  }
  std::vector<kit::TableRow> rows;
  for (const ClayFigureLine& line : clay_figure_lines(*found)) {
    rows.push_back(
        {.cells = {line.label, line.value, line.basis, line.source}, .doubtful = line.estimate});
  }
  kit::table(frame, "figures", {{.heading = "", .width = 180}, {"", true}, {}, {.fills = true}},
             rows);
  bool doubted = false;
  for (const Note& note : found.notes()) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
    doubted = doubted || note.doubtful;
  }
  if (!doubted) kit::note(frame, clay_standing(body, found));
}

void mix(Frame& frame, const ClayBody& body) {
  ClayPageState& state = frame.state.clays;
  kit::heading(frame, "Mix, by dry weight");
  std::vector<kit::TableRow> rows;
  for (const MixLine& line : mix_lines(body)) {
    rows.push_back({.cells = {line.name, line.kind, line.parts, line.percent},
                    .name = "Part " + line.name,
                    .chosen = state.part == rows.size()});
  }
  if (rows.empty()) {
    kit::note(frame, "Where it is mixed of clays, temper or grog: weigh each dry.");
  } else if (const auto clicked = kit::table(
                 frame, "mix", {{"Of", false, 180}, {"", false}, {"Parts", true}, {"Share", true}},
                 rows)) {
    if (state.part == clicked) {
      state.part.reset();
    } else {
      state.part = clicked;
    }
    state.trouble.reset();
  }
  if (state.part && *state.part < body.mix.size()) mix_fields(frame, body, *state.part);
  if (kit::button(frame, "Add a part", {.width = 0.0})) {
    ClayBody more = body;
    MixPart part;
    part.name = "part " + std::to_string(body.mix.size() + 1);
    part.dry_parts = 1.0;
    more.mix.push_back(part);
    state.part = body.mix.size();
    frame.ask(PutClay{more, "Add a part to the mix of '" + body.record + "'"});
  }
}

void head(Frame& frame, const ClayBody& body) {
  if (kit::link(frame, "< All clays", "Back to the list of your book")) {
    frame.state.clays = {.page = ClayPage::kBook};
  }
  kit::title(frame, clay_words(body));
  const bool used =
      frame.session.open() && frame.document().clay && frame.document().clay->record == body.record;
  if (used) {
    kit::note(frame, "This pot is made of it.");
  } else if (kit::button(frame, "Use it for this pot",
                         {.enabled = frame.session.open(),
                          .reason = "Open a photograph first.",
                          .accent = !body.bars.empty(),
                          .width = 0.0})) {
    ProjectClay clay = frame.document().clay.value_or(ProjectClay{});
    clay.record = body.record;
    clay.name.clear();
    clay.shrinkage_percent.reset();
    clay.firing_c.reset();
    frame.ask(Perform{SetClay{clay}});
  }
  kit::FieldRow row(frame);
  const auto put = [&](ClayBody changed, const char* what) {
    frame.ask(PutClay{std::move(changed), std::string(what) + " of '" + body.record + "'"});
  };
  row.next(200);
  if (const auto name = kit::text(frame, "Name of the clay", body.name, {.width = row.width()})) {
    ClayBody changed = body;
    changed.name = *name;
    put(std::move(changed), "Change the name");
  }
  row.next(120);
  if (const auto heat = kit::number(frame, "Usually fired at", body.firing_c,
                                    {.unit = "°C", .decimals = 0, .width = row.width()})) {
    ClayBody changed = body;
    changed.firing_c = *heat;
    put(std::move(changed), "Change the firing");
  }
  row.next(300);
  if (const auto note =
          kit::text(frame, "Note on it", body.note,
                    {.hint = "where it was dug, how it was mixed", .width = row.width()})) {
    ClayBody changed = body;
    changed.note = *note;
    put(std::move(changed), "Change the note");
  }
}

}  // namespace

void clay_trouble(Frame& frame) {
  const ClayPageState& state = frame.state.clays;
  if (state.trouble) kit::problem(frame, *state.trouble);
  for (const Note& note : state.notes) kit::doubt(frame, note.text);
}

void clay_list_view(Frame& frame) {
  ClayPageState& state = frame.state.clays;
  const ClayDesk& desk = frame.session.clays();
  kit::title(frame, "Your book of clays");
  kit::note(frame, "Each clay keeps its mix and its test bars here, for every pot you make of it.");
  kit::space(frame);
  if (desk.problem()) {
    kit::problem(frame, *desk.problem());
    return;
  }
  std::vector<kit::TableRow> rows;
  for (const ClayLine& line : clay_lines(desk.book())) {
    rows.push_back({.cells = {line.name, line.shrinkage, line.source},
                    .name = "Clay " + line.record,
                    .tooltip = "Open its bars and its mix.",
                    .doubtful = line.estimate});
  }
  if (!rows.empty()) {
    const auto clicked = kit::table(
        frame, "clays",
        {{"Clay", false, 220}, {"Shrinks in all by", true}, {"As told by", false, 0, true}}, rows);
    if (clicked) state.record = desk.book().bodies[*clicked].record;
  }
  clay_trouble(frame);
  begin_one(frame);
  kit::space(frame, 16);
  if (kit::button(
          frame, "Take in clays from a file",
          {.tooltip = "A book that somebody handed on. Yours stay as they are.", .width = 0.0})) {
    open_browser(frame, BrowsePurpose::kTakeInClays);
  }
  ImGui::SameLine();
  if (kit::button(frame, "Print a test bar", {.width = 0.0})) {
    open_browser(frame, BrowsePurpose::kSaveBarSheet);
  }
  take_back(frame);
  if (kit::fold(frame, "What a handbook says")) {
    kit::note(frame, "Where a clay has no bars these ranges stand in, and are marked as such.");
    for (const std::string& sentence : handbook_sentences()) kit::note(frame, sentence);
  }
}

void clay_record_view(Frame& frame, const ClayBody& body) {
  ImGui::PushID(body.record.c_str());
  head(frame, body);
  bars(frame, body);
  stated_fields(frame, body);
  figures(frame, body);
  mix(frame, body);
  kit::space(frame, 24);
  if (kit::button(frame, "Save it to a file",
                  {.tooltip = "To hand it on, with the clays it is mixed of.", .width = 0.0})) {
    open_browser(frame, BrowsePurpose::kHandOnClay);
  }
  ImGui::SameLine();
  if (kit::button(frame, "Take it out of the book",
                  {.tooltip = "It can be taken back until the window is closed.", .width = 0.0})) {
    frame.ask(RemoveClay{body.record});
    frame.state.clays = {.page = ClayPage::kBook};
  }
  take_back(frame);
  ImGui::PopID();
}

}  // namespace potshadow

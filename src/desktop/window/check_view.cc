// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <chrono>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include "clay/bench_reading.h"
#include "core/text.h"
#include "core/typed_number.h"
#include "desktop/window/drawable.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/table.h"
#include "desktop/words/check_words.h"
#include "desktop/words/figures_words.h"
#include "desktop/words/stage_words.h"
#include "project/sheet_request.h"

namespace potshadow {
namespace {

// Where the columns of the form begin, at 100 %.
constexpr double kTarget = 168.0;
constexpr double kMeasured = 300.0;
constexpr double kTool = 408.0;
constexpr double kSure = 560.0;
constexpr double kFieldWidth = 92.0;
constexpr double kCapacityTolerance = 0.02;  // of what it holds (common practice, no source)

bool is_diameter(SizeName name) {
  return name == SizeName::kMaxDiameter || name == SizeName::kNeckDiameter ||
         name == SizeName::kRimDiameter || name == SizeName::kBaseDiameter;
}

double per_mm(const Frame& frame, SizeName name) {
  return name == SizeName::kCapacity ? 1.0 : in_unit(Mm{1.0}, frame.settings.unit);
}

std::string unit_of(const Frame& frame, SizeName name) {
  return name == SizeName::kCapacity ? "ml" : std::string(unit_name(frame.settings.unit));
}

const ProjectBenchSize* kept_size(const Frame& frame, SizeName name) {
  const ProjectBench* const bench = bench_at(frame.document(), frame.state.check.stage);
  if (bench == nullptr) return nullptr;
  for (const ProjectBenchSize& size : bench->sizes) {
    if (size.size == name) return &size;
  }
  return nullptr;
}

CheckState::Form& form_of(Frame& frame, SizeName name) {
  auto& forms = frame.state.check.forms;
  const auto found = forms.find(name);
  if (found != forms.end()) return found->second;
  CheckState::Form form;
  form.tool = is_diameter(name) ? BenchTool::kCaliper : BenchTool::kTape;
  return forms.emplace(name, form).first->second;
}

// What was typed becomes the pot's size, unless it cannot be one.
void take(Frame& frame, SizeName name, double typed) {
  CheckState& state = frame.state.check;
  const CheckState::Form& form = form_of(frame, name);
  const double mm = typed / per_mm(frame, name);
  BenchReading reading{form.tool, mm, form.tolerance_mm};
  if (name == SizeName::kCapacity && !reading.tolerance_mm) {
    reading.tolerance_mm = kCapacityTolerance * mm;
  }
  const Result<Measured> size = measured_size({reading}, is_diameter(name));
  state.trouble.reset();
  if (!size) {
    state.trouble = size.problem();
    return;
  }
  frame.ask(Perform{SetBenchSize{state.stage, name, BenchValue{size->value, size->sd},
                                 iso_date(std::chrono::system_clock::now())}});
}

void at(const Frame& frame, float left, double column) {
  ImGui::SameLine(left + frame.look.px(column));
}

void heading_row(Frame& frame) {
  ImGui::PushFont(frame.look.fonts.note);
  ImGui::PushStyleColor(ImGuiCol_Text, paint(frame.look.colours.quiet));
  const float left = ImGui::GetCursorPosX();
  ImGui::TextUnformatted("Size");
  at(frame, left, kTarget);
  ImGui::TextUnformatted(("Must be, " + std::string(stage_words(frame.state.check.stage))).c_str());
  at(frame, left, kMeasured);
  ImGui::TextUnformatted("Measured");
  at(frame, left, kTool);
  ImGui::TextUnformatted("With");
  at(frame, left, kSure);
  ImGui::TextUnformatted("Sure to ±");
  ImGui::PopStyleColor();
  ImGui::PopFont();
}

// What a photograph of the pot says of a size that was not typed; a dash where there is none.
std::string photographed(const Frame& frame, SizeName name, int decimals) {
  const CheckView& view = frame.session.check();
  for (std::size_t i = 0; view.answer && i < view.answer->names.size(); ++i) {
    if (view.answer->names[i] != name) continue;
    return fixed_text(view.answer->check.sizes[i].measured.value * per_mm(frame, name),
                      name == SizeName::kCapacity ? 0 : decimals);
  }
  return "–";
}

void fields(Frame& frame, const MeasuredSize& size, float left) {
  const std::string words(size_words(size.name));
  const ProjectBenchSize* const kept = kept_size(frame, size.name);
  CheckState::Form& form = form_of(frame, size.name);
  const double unit = per_mm(frame, size.name);
  const int decimals = frame.settings.unit == LengthUnit::kMm ? 1 : 2;
  at(frame, left, kMeasured);
  // As it was read: of a girth the way round.
  const double round = form.tool == BenchTool::kGirth ? std::numbers::pi : 1.0;
  std::optional<double> shown;
  if (kept != nullptr) shown = kept->value * unit * round;
  const auto typed =
      kit::number(frame, "##Measured " + words, shown,
                  {.tooltip = form.tool == BenchTool::kGirth
                                  ? "The way round, as the tape says; the diameter follows."
                                  : "",
                   .decimals = decimals,
                   .hint = photographed(frame, size.name, decimals),
                   .width = kFieldWidth});
  if (typed && *typed) take(frame, size.name, **typed);
  if (typed && !*typed) {
    frame.ask(Perform{SetBenchSize{frame.state.check.stage, size.name, std::nullopt, ""}});
  }
  if (size.name == SizeName::kCapacity) return;
  at(frame, left, kTool);
  std::vector<std::string> tools{tool_words(BenchTool::kCaliper), tool_words(BenchTool::kTape)};
  if (is_diameter(size.name)) tools.push_back(tool_words(BenchTool::kGirth));
  const auto tool = kit::list(frame, "##With " + words, tools, static_cast<std::size_t>(form.tool),
                              "What you measured it with.", 136.0);
  if (tool) {
    form.tool = static_cast<BenchTool>(*tool);
    if (shown) take(frame, size.name, *shown);
  }
  at(frame, left, kSure);
  const double usual = tolerance_of(form.tool) * unit;
  const auto sure = kit::number(
      frame, "##Sure of " + words,
      form.tolerance_mm ? std::optional<double>(*form.tolerance_mm * unit) : std::nullopt,
      {.tooltip = "How far the reading may be off.",
       .hint = typed_text(usual, frame.settings.unit == LengthUnit::kMm ? 1 : 3),
       .width = 64.0});
  if (!sure) return;
  form.tolerance_mm = *sure ? std::optional<double>(**sure / unit) : std::nullopt;
  if (shown) take(frame, size.name, *shown);
}

// A filled ring is right, a wave is off, an empty ring cannot be told yet.
void verdict(Frame& frame, const BenchSize& size) {
  const ThemeColours& colours = frame.look.colours;
  const bool off = size.verdict == Verdict::kLarger || size.verdict == Verdict::kSmaller;
  const std::string words = check_words(size, frame.settings.unit);
  if (off) {
    kit::doubt(frame, words);
  } else {
    const ImVec2 from = ImGui::GetCursorScreenPos();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 centre(from.x + frame.look.px(5), from.y + frame.look.px(8));
    list.AddCircle(centre, frame.look.px(4), paint(colours.line), 16, frame.look.px(1.4));
    if (size.verdict == Verdict::kRight) {
      list.AddCircleFilled(centre, frame.look.px(2.4), paint(colours.line), 16);
    }
    ImGui::Indent(frame.look.px(14));
    ImGui::PushFont(frame.look.fonts.note);
    kit::words(frame, words);
    ImGui::PopFont();
    ImGui::Unindent(frame.look.px(14));
  }
  const std::string fired = when_fired_words(size, frame.state.check.stage, frame.settings.unit);
  if (fired.empty()) return;
  ImGui::Indent(frame.look.px(14));
  kit::note(frame, fired);
  ImGui::Unindent(frame.look.px(14));
}

void size_row(Frame& frame, const Measurement& measurement, const MeasuredSize& size) {
  const CheckView& view = frame.session.check();
  const float left = ImGui::GetCursorPosX();
  const ImVec2 line = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddLine(line,
                                      ImVec2(line.x + ImGui::GetContentRegionAvail().x, line.y),
                                      paint(frame.look.colours.line, 0.35), frame.look.px(1));
  kit::space(frame, 12);
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(std::string(size_words(size.name)).c_str());
  kit::tip(frame, std::string(size_lesson(size.name)));
  at(frame, left, kTarget);
  const Stage stage = frame.state.check.stage;
  Measured target = size.measured;
  if (measurement.clay) target = at_stage(size, measurement.clay->figures, stage).measured;
  ImGui::TextUnformatted(
      (target_words(target, size.name, frame.settings.unit) + " " + unit_of(frame, size.name))
          .c_str());
  fields(frame, size, left);
  if (!view.answer) return;
  const std::vector<SizeName>& names = view.answer->names;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (names[i] == size.name) verdict(frame, view.answer->check.sizes[i]);
  }
}

}  // namespace

void check_view(Frame& frame) {
  const kit::Page page(frame, "check page");
  if (not_drawable_yet(frame, "check")) return;
  const CheckView& view = frame.session.check();
  const Measurement& measurement = *frame.session.figures().measurement;
  kit::title(frame, "The pot on the bench");
  kit::note(frame,
            "Measure what you can reach, while the form can still be put right. One diameter "
            "is enough to begin with.");
  kit::space(frame);
  const CheckState& state = frame.state.check;
  if (state.trouble) kit::problem(frame, *state.trouble);
  if (view.problem) kit::problem(frame, *view.problem);
  if (view.answer) {
    kit::words(frame, pot_sentence(*view.answer));
    for (const Note& note : view.answer->notes) {
      if (note.doubtful) kit::doubt(frame, note.text);
    }
    kit::space(frame);
  }
  heading_row(frame);
  for (const MeasuredSize& size : measurement.answer.sizes) size_row(frame, measurement, size);
}

}  // namespace potshadow

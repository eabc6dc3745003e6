// SPDX-License-Identifier: MIT
#include "desktop/window/layout.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>

#include "core/text.h"
#include "desktop/session/comparer.h"
#include "desktop/window/canvas_input.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/work_state.h"
#include "desktop/words/outline_words.h"
#include "desktop/words/reference_words.h"
#include "project/clay_text.h"

namespace potshadow {
namespace {

constexpr double kStepsWidth = 208.0;
constexpr double kFiguresWidth = 336.0;
constexpr double kFolded = 24.0;
constexpr double kLeastMiddle = 280.0;
constexpr double kFootHeight = 32.0;

constexpr ImGuiWindowFlags kPlain = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                    ImGuiWindowFlags_NoSavedSettings |
                                    ImGuiWindowFlags_NoBringToFrontOnFocus;

// A side that is folded away: a narrow strip that unfolds.
void folded_side(Frame& frame, bool steps) {
  const char* const label = steps ? ">##unfold steps" : "<##unfold figures";
  if (ImGui::Button(label, ImGui::GetContentRegionAvail())) {
    Settings settings = frame.settings;
    (steps ? settings.steps_folded : settings.figures_folded) = false;
    frame.ask(ChangeSettings{settings});
    frame.state.narrow_figures = !steps;
  }
  kit::describe_last(frame, steps ? "Unfold the steps" : "Unfold the figures");
  kit::tip(frame, steps ? "Show the steps (B)" : "Show the figures (G)");
}

void side(Frame& frame, const char* name, float left, float width, bool folded, bool steps) {
  ImGui::SetCursorPos(ImVec2(left, 0.0F));
  const ImVec2 padding = folded ? ImVec2(0.0F, 0.0F) : ImVec2(frame.look.px(16), frame.look.px(16));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, padding);
  ImGui::BeginChild(name, ImVec2(width, 0.0F), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NavFlattened);
  ImGui::PopStyleVar();
  if (steps && std::exchange(frame.state.focus_panels, false)) ImGui::SetWindowFocus();
  if (folded) {
    folded_side(frame, steps);
  } else if (steps) {
    steps_strip(frame);
  } else {
    figures_side(frame);
  }
  ImGui::EndChild();
}

// What the line at the foot of the photograph says.
std::string foot_words(const Frame& frame) {
  const BenchState& state = frame.state;
  if (!state.said.text.empty()) {
    return state.said.next.empty() ? state.said.text : state.said.text + " " + state.said.next;
  }
  if (state.middle == Middle::kBrowser) return "Enter opens what is chosen, Escape goes back.";
  if (state.middle == Middle::kHelp) return "Escape goes back.";
  if (state.step == Step::kClay) {
    return "Each ± is the 95 % interval. What you change in the book is saved at once.";
  }
  if (state.step == Step::kPlan) return "All lengths are those of the wet pot.";
  if (state.step == Step::kCheck) return "Press Enter after each reading. Undo takes it back.";
  if (state.step == Step::kCompare) {
    return "Each ± is the 95 % interval. Point at the chart of gaps to read it.";
  }
  if (state.step == Step::kTemplates) {
    return "Turn the wheel to look closer. Page Up and Page Down turn the pages.";
  }
  if (state.tool.kind == ToolKind::kEdges) {
    constexpr const char* kEdges[] = {"lower", "right", "upper", "left"};
    const std::size_t marked = state.canvas.edge_points.size();
    return std::string("Mark ") + (marked % 2 == 0 ? "a point" : "a second point") + " on the " +
           kEdges[std::min<std::size_t>(marked / 2, 3)] + " edge, on its straight part.";
  }
  if (state.tool.kind == ToolKind::kShelfLine) {
    return shelf_line_prompt(state.canvas.edge_points.size()) + " Esc leaves it.";
  }
  CanvasState canvas;
  if (state.tool.kind == ToolKind::kTrace) canvas.tracing = state.tool.trace;
  const ProjectPhoto* const shown = frame.photo();
  if (shown != nullptr && shown->trace && state.canvas.left_out &&
      *state.canvas.left_out < shown->trace->doubtful.size()) {
    canvas.left_out = left_out_words(shown->trace->doubtful[*state.canvas.left_out]);
  }
  if (state.tool.kind == ToolKind::kMark) {
    const MarkPart part = part_of_tool(frame);
    canvas.tool = kind_of_part(part).value_or(state.tool.mark);
    canvas.crossings = part == MarkPart::kCrossing;
  }
  canvas.selected = state.canvas.selection.size();
  canvas.over_mark = state.canvas.hovered.has_value();
  canvas.dragging = state.canvas.grip == Grip::kDrag && state.canvas.drag_moved;
  return help_line(canvas);
}

void foot(Frame& frame, ScreenBox box) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 from(static_cast<float>(box.left), static_cast<float>(box.top));
  const ImVec2 to(static_cast<float>(box.left + box.width),
                  static_cast<float>(box.top + box.height));
  const ThemeColours& colours = frame.look.colours;
  list.AddRectFilled(from, to, paint(colours.sunk));
  const bool trouble = frame.state.said.trouble && !frame.state.said.text.empty();

  // Zoom at the right end.
  const bool photo = frame.session.photo().shown.has_value() &&
                     frame.state.middle == Middle::kPhoto && !has_page(frame.state.step);
  float right = to.x - frame.look.px(8);
  ImGui::PushFont(frame.look.fonts.note);
  if (photo) {
    const std::string percent = fixed_text(100.0 * frame.state.canvas.transform.scale(), 0) + " %";
    const auto place = [&](const std::string& label) {
      right -= ImGui::CalcTextSize(label.c_str()).x + 2.0F * ImGui::GetStyle().FramePadding.x;
      ImGui::SetCursorScreenPos(ImVec2(
          right, from.y + 0.5F * (static_cast<float>(box.height) - ImGui::GetFrameHeight())));
    };
    place("1:1");
    if (kit::link(frame, "1:1", "One pixel of the photograph on one of the screen (9)")) {
      frame.state.canvas.transform.set_scale(1.0, shown_size(frame), frame.state.canvas.box);
      frame.state.canvas.fits = false;
    }
    place("Fit");
    if (kit::link(frame, "Fit", "Show the whole photograph (0)")) frame.state.canvas.fitted = false;
    right -= ImGui::CalcTextSize(percent.c_str()).x + frame.look.px(4);
    list.AddText(ImVec2(right, from.y + 0.5F * (static_cast<float>(box.height) -
                                                ImGui::GetTextLineHeight())),
                 paint(colours.quiet), percent.c_str());
  }
  const std::string words = foot_words(frame);
  const ImVec2 at(from.x + frame.look.px(12) + (trouble ? frame.look.px(16) : 0.0F),
                  from.y + 0.5F * (static_cast<float>(box.height) - ImGui::GetTextLineHeight()));
  if (trouble) {
    kit::wave(frame, list, ImVec2(from.x + frame.look.px(10), from.y + 0.5F * (to.y - from.y)),
              frame.look.px(12), paint(colours.doubt));
  }
  const ImVec4 clip(from.x, from.y, right - frame.look.px(8), to.y);
  list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), at,
               paint(trouble ? colours.doubt : colours.text), words.c_str(), nullptr, 0.0F, &clip);
  ImGui::SetCursorScreenPos(from);
  ImGui::Dummy(ImVec2(std::max(1.0F, right - from.x), static_cast<float>(box.height)));
  if (ImGui::CalcTextSize(words.c_str()).x > clip.z - at.x) kit::tip(frame, words);
  ImGui::PopFont();
}

// What was found of the outline, and whether more is being looked for.
void tell_trace(Frame& frame) {
  const ProjectPhoto* const photo = frame.photo();
  const ProjectTrace trace =
      photo != nullptr ? photo->trace.value_or(ProjectTrace()) : ProjectTrace();
  const auto count = [](const auto& list) { return static_cast<double>(list.size()); };
  frame.description.tell("traced",
                         std::map<std::string, double>{{"rim", count(trace.rim)},
                                                       {"base", count(trace.base)},
                                                       {"left", count(trace.left)},
                                                       {"right", count(trace.right)},
                                                       {"strokes", count(trace.strokes)}});
  const TraceWork& work = frame.session.trace_work();
  frame.description.tell("tracing", work.busy.has_value());
  frame.description.tell("trace_problem", work.problem ? work.problem->what : "");
}

// What the Templates step shows.
void tell_sheets(Frame& frame) {
  const SheetView& sheet = frame.session.sheet();
  Description& to = frame.description;
  to.tell("printed", std::string(printed_word(frame.settings.print.printed)));
  to.tell("sheet_page", static_cast<double>(frame.state.sheets.page));
  to.tell("sheet_problem", sheet.problem ? sheet.problem->what : "");
  to.tell("sheet_saved", frame.state.sheets.file.string());
  to.tell("printers", static_cast<double>(frame.session.printers().book().printers.size()));
}

// What is known of the clay and the plan, and what stands against a change of them.
void tell_clay(Frame& frame) {
  const Session& session = frame.session;
  Description& to = frame.description;
  std::map<std::string, double> wet;
  const Figures& figures = session.figures();
  if (figures.current && figures.measurement->shrinkage) {
    for (const MeasuredSize& size : figures.measurement->answer.sizes) {
      wet[std::string(size_key(size.name))] = wet_size(*figures.measurement, size).value;
    }
  }
  to.tell("wet_sizes", wet);
  const PlanView& plan = session.plan();
  to.tell("coils", static_cast<double>(plan.current ? plan.plan->coils.size() : 0));
  std::string problem;
  if (plan.problem) problem = plan.problem->what;
  if (session.clay_work().problem) problem = session.clay_work().problem->what;
  if (frame.state.clays.trouble) problem = frame.state.clays.trouble->what;
  const CheckView& check = session.check();
  if (check.problem) problem = check.problem->what;
  if (session.bench_photo().problem) problem = session.bench_photo().problem->what;
  if (frame.state.check.trouble) problem = frame.state.check.trouble->what;
  const ComparisonView& comparison = session.comparison();
  if (comparison.problem) problem = comparison.problem->what;
  if (comparison.save_problem) problem = comparison.save_problem->what;
  std::string verdicts;
  for (std::size_t i = 0; check.answer && i < check.answer->names.size(); ++i) {
    verdicts += std::string(size_key(check.answer->names[i])) + " " +
                std::string(verdict_key(check.answer->check.sizes[i].verdict)) + "\n";
  }
  to.tell("verdicts", verdicts);
  to.tell("bench_photo", session.bench_photo().file.filename().string());
  to.tell("bands_at", std::string(plan.plan ? stage_words(plan.plan->band_stage) : ""));
  const ClayWork& clay = session.clay_work();
  to.tell("clay_from", clay.clay ? evidence_words(clay.clay->figures.total) : "");
  to.tell("page_problem", problem);
  to.tell("page_notes", static_cast<double>(frame.state.clays.notes.size()));
}

// What is compared, and what came of it.
void tell_comparison(Frame& frame) {
  const ComparisonView& view = frame.session.comparison();
  const bool there = view.work != nullptr && view.current;
  std::string words;
  if (there && view.work->series) words = series_text(*view.work->series, frame.settings.unit);
  if (there && view.work->comparison) {
    words = comparison_paragraph(*view.work->comparison, frame.settings.unit);
  }
  frame.description.tell("compared", words);
  frame.description.tell("compared_photos", there && view.work->photos != nullptr);
  frame.description.tell("compared_file", view.saved.string());
}

}  // namespace

ScreenBox draw_layout(Frame& frame) {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  // What the panels find pointed at in this frame is lit in the next.
  frame.state.canvas.lit_size = std::exchange(frame.state.canvas.hovered_size, std::nullopt);
  ImGui::SetNextWindowPos(ImVec2(0.0F, 0.0F));
  ImGui::SetNextWindowSize(size);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0.0F, 0.0F));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0.0F);
  ImGui::Begin("bench", nullptr, kPlain);
  ImGui::PopStyleVar(2);

  ScreenBox photo_box;
  const bool open = frame.session.open();
  const float banner = recovery_banner_height(frame);
  if (!open && frame.state.middle == Middle::kPhoto) {
    recovery_banner(frame, {0.0, 0.0, size.x, banner});
    ImGui::SetCursorPos(ImVec2(0.0F, banner));
    ImGui::BeginChild("welcome", ImVec2(size.x, size.y - banner));
    welcome_view(frame);
    ImGui::EndChild();
  } else {
    bool steps_folded = frame.settings.steps_folded;
    bool figures_folded = frame.settings.figures_folded;
    // A window too narrow for both sides shows one of them.
    frame.state.narrow = size.x < frame.look.px(kStepsWidth + kFiguresWidth + kLeastMiddle);
    if (frame.state.narrow && !steps_folded && !figures_folded) {
      (frame.state.narrow_figures ? steps_folded : figures_folded) = true;
    }
    const float left = !open ? 0.0F : frame.look.px(steps_folded ? kFolded : kStepsWidth);
    const float right = !open ? 0.0F : frame.look.px(figures_folded ? kFolded : kFiguresWidth);
    const float middle = std::max(frame.look.px(200), size.x - left - right);
    const float foot_height = frame.look.px(kFootHeight);
    photo_box = {left, banner, middle, size.y - foot_height - banner};
    if (open) {
      side(frame, "steps", 0.0F, left, steps_folded, true);
      side(frame, "figures", left + middle, right, figures_folded, false);
    }
    recovery_banner(frame, {left, 0.0, middle, banner});
    ImGui::SetCursorPos(ImVec2(left, banner));
    ImGui::BeginChild("middle", ImVec2(middle, size.y - banner), false,
                      ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    if (frame.state.middle == Middle::kBrowser) {
      browser_view(frame);
    } else if (frame.state.middle == Middle::kHelp) {
      help_view(frame);
    } else if (frame.state.step == Step::kClay) {
      clay_view(frame);
    } else if (frame.state.step == Step::kCheck) {
      check_view(frame);
    } else if (frame.state.step == Step::kCompare) {
      compare_view(frame);
    } else if (frame.state.step == Step::kPlan) {
      plan_view(frame);
    } else if (frame.state.step == Step::kTemplates) {
      ImGui::BeginChild("sheet", ImVec2(middle, static_cast<float>(photo_box.height)), false,
                        ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
      sheet_view(frame);
      ImGui::EndChild();
    } else {
      photo_canvas(frame, photo_box);
    }
    foot(frame, {left, size.y - foot_height, middle, foot_height});
    ImGui::EndChild();
  }
  ImGui::End();
  question_view(frame);
  return photo_box;
}

Step first_step(const Frame& frame) {
  const Step due = step_due(frame.document(), work_state(frame));
  // Figures are not there yet when a project has just been opened; what is marked counts.
  return has_page(due) ? Step::kSizes : due;
}

void tell_state(Frame& frame) {
  Description& to = frame.description;
  const Session& session = frame.session;
  to.tell("open", session.open());
  to.tell("step", std::string(step_title(frame.state.step)));
  to.tell("middle", frame.state.middle == Middle::kBrowser ? "browser"
                    : frame.state.middle == Middle::kHelp  ? "help"
                                                           : "photo");
  to.tell("question", frame.state.question == Question::kLeave     ? "leave"
                      : frame.state.question == Question::kRecover ? "recover"
                                                                   : "");
  to.tell("theme", frame.look.evening ? "evening" : "daylight");
  to.tell("scale", frame.look.scale);
  to.tell("typing", ImGui::GetIO().WantTextInput);
  to.tell("unsaved", session.unsaved());
  to.tell("undo", static_cast<double>(session.history().at()));
  to.tell("steps", static_cast<double>(session.history().steps().size()));
  to.tell("selected", static_cast<double>(frame.state.canvas.selection.size()));
  to.tell("project_file", session.project_file().string());
  to.tell("status", foot_words(frame));
  std::string problem;
  if (frame.state.said.trouble) problem = frame.state.said.text;
  if (session.photo().problem) problem = session.photo().problem->what;
  if (session.autosave_problem()) problem = session.autosave_problem()->what;
  to.tell("problem", problem);
  std::map<std::string, double> marks{
      {"rim", 0}, {"base", 0}, {"left", 0}, {"right", 0}, {"reference", 0}};
  if (session.open()) {
    for (const MarkId& mark : marks_of(frame.document(), frame.state.photo)) {
      switch (mark.place.kind) {
        case MarkKind::kRim:
          ++marks["rim"];
          break;
        case MarkKind::kBase:
          ++marks["base"];
          break;
        case MarkKind::kLeft:
          ++marks["left"];
          break;
        case MarkKind::kRight:
          ++marks["right"];
          break;
        case MarkKind::kReference:
          ++marks["reference"];
          break;
      }
    }
  }
  to.tell("marks", marks);
  tell_trace(frame);
  tell_clay(frame);
  tell_comparison(frame);
  to.tell("photo", static_cast<double>(frame.state.photo));
  to.tell("photos", static_cast<double>(session.open() ? frame.document().photos.size() : 0));
  const Figures& figures = session.figures();
  to.tell("figures", figures.measurement == nullptr ? "none"
                     : figures.current              ? "current"
                                                    : "stale");
  to.tell("figures_problem", figures.problem ? figures.problem->what : "");
  std::map<std::string, double> sizes;
  if (figures.current && figures.measurement != nullptr) {
    for (const MeasuredSize& size : figures.measurement->answer.sizes) {
      sizes[std::string(size_key(size.name))] = size.measured.value;
    }
  }
  to.tell("sizes", sizes);
  tell_sheets(frame);
  to.tell("sheet_pages",
          static_cast<double>(session.sheet().current ? session.sheet().pages.size() : 0));
}

}  // namespace potshadow

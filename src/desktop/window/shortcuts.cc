// SPDX-License-Identifier: MIT
#include "desktop/window/shortcuts.h"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "desktop/canvas/picking.h"
#include "desktop/window/canvas_input.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/photograph_list.h"
#include "desktop/window/trace_input.h"
#include "desktop/words/figures_words.h"

namespace potshadow {
namespace {

constexpr double kZoomStep = 1.25;
constexpr int kFramesToGiveUp = 2;  // a field hands its text over in the frame after it was left

void use_tool(Frame& frame, MarkKind kind) {
  frame.state.middle = Middle::kPhoto;
  // While a neighbour is being marked the keys are about it.
  const ProjectPhoto* const photo = frame.photo();
  Tool& tool = frame.state.tool;
  const bool neighbour = tool.kind == ToolKind::kMark && tool.mark == MarkKind::kReference &&
                         photo != nullptr && tool.reference < photo->references.size() &&
                         photo->references[tool.reference].kind == "neighbour";
  if (neighbour && kind != MarkKind::kReference) {
    tool.part = neighbour_part(kind);
    return;
  }
  frame.state.tool = {.kind = ToolKind::kMark, .mark = kind, .reference = frame.state.reference};
  frame.state.canvas.edge_points.clear();
  frame.state.step = kind == MarkKind::kReference ? Step::kReference : Step::kOutline;
}

// Takes up the tool for further crossings of the chosen tile floor or wall.
void mark_crossings(Frame& frame) {
  const ProjectPhoto* const photo = frame.photo();
  const std::size_t index = frame.state.reference;
  const bool grid = photo != nullptr && index < photo->references.size() &&
                    photo->references[index].kind == "grid";
  if (!grid) {
    kit::complain(frame, "The chosen reference is no tile floor or wall, so it has no crossings.",
                  "Choose one in the Reference step first.");
    return;
  }
  use_tool(frame, MarkKind::kReference);
  frame.state.tool.part = MarkPart::kCrossing;
}

void zoom(Frame& frame, double factor, ScreenBox box) {
  const PictureSize size = shown_size(frame);
  if (size.width_px == 0) return;
  PhotoTransform& transform = frame.state.canvas.transform;
  transform.set_scale(transform.scale() * factor, size, box);
  frame.state.canvas.fits = false;
}

void copy_figures(Frame& frame) {
  const auto& measurement = frame.session.figures().measurement;
  if (measurement == nullptr) {
    kit::complain(frame, "There are no figures to copy yet.", "Mark the vessel first.");
    return;
  }
  frame.ask(CopyText{figures_text(*measurement, frame.session.project_file().filename().string(),
                                  frame.settings.unit),
                     "Copied the figures."});
}

void select_next(Frame& frame, bool backwards) {
  const CanvasWork& work = frame.state.canvas;
  std::optional<MarkId> from;
  if (!work.selection.empty()) from = work.selection.back();
  const auto next = next_mark(frame.document(), frame.state.photo, from, backwards);
  if (next) select_mark(frame, *next);
}

void leave_tool(Frame& frame) {
  BenchState& state = frame.state;
  CanvasWork& work = state.canvas;
  if (work.grip == Grip::kDrag || work.grip == Grip::kPress || work.grip == Grip::kStroke ||
      (work.grip == Grip::kBox && state.tool.kind == ToolKind::kTrace)) {
    work.grip = Grip::kNone;
    work.stroke.clear();
    work.drag_moved = false;
    work.dragging_new = false;
    work.pressed_mark.reset();
    work.last_move.reset();
    frame.ask(EndPreview{});
  } else if (state.middle != Middle::kPhoto) {
    state.middle = Middle::kPhoto;
  } else if (frame.session.trace_work().busy) {
    frame.ask(StopTracing{});
  } else if (!state.canvas.edge_points.empty()) {
    state.canvas.edge_points.clear();
  } else if (state.tool.kind != ToolKind::kSelect) {
    state.tool = Tool{};
  } else {
    state.canvas.selection.clear();
  }
}

void with_ctrl(Frame& frame, const KeyPress& press) {
  const bool typing = ImGui::GetIO().WantTextInput;
  switch (press.key) {
    case GLFW_KEY_O:
      open_browser(frame, BrowsePurpose::kOpen);
      break;
    case GLFW_KEY_S:
      if (!frame.session.open()) break;
      if (press.shift) {
        open_browser(frame, BrowsePurpose::kSaveProject);
      } else {
        frame.ask(Save{});
      }
      break;
    case GLFW_KEY_Z:
      if (typing) break;
      if (press.shift) {
        frame.ask(Redo{});
      } else {
        frame.ask(Undo{});
      }
      break;
    case GLFW_KEY_Y:
      if (!typing) frame.ask(Redo{});
      break;
    case GLFW_KEY_A:
      if (!typing) frame.state.canvas.selection = marks_of(frame.document(), frame.state.photo);
      break;
    case GLFW_KEY_C:
      if (!typing) copy_figures(frame);
      break;
    case GLFW_KEY_Q:
      frame.ask(Quit{});
      break;
    default:
      break;
  }
}

// Whether the key saves or leaves while a text is being typed.
bool puts_typing_at_risk(const KeyPress& press) {
  return press.key == GLFW_KEY_S || press.key == GLFW_KEY_Q || press.key == GLFW_KEY_O;
}

void nudge(Frame& frame, const KeyPress& press) {
  double step = 1.0;
  if (press.alt) step = 0.1;
  if (press.shift) step = 10.0;
  switch (press.key) {
    case GLFW_KEY_LEFT:
      nudge_selection(frame, -step, 0.0);
      break;
    case GLFW_KEY_RIGHT:
      nudge_selection(frame, step, 0.0);
      break;
    case GLFW_KEY_UP:
      nudge_selection(frame, 0.0, -step);
      break;
    default:
      nudge_selection(frame, 0.0, step);
      break;
  }
}

void turn_page(Frame& frame, int by) {
  const int pages = static_cast<int>(frame.session.sheet().pages.size());
  int& page = frame.state.sheets.page;
  page = std::clamp(page + by, 0, std::max(0, pages - 1));
}

void on_photo(Frame& frame, const KeyPress& press, ScreenBox box) {
  CanvasWork& work = frame.state.canvas;
  const bool sheet = frame.state.step == Step::kTemplates;
  switch (press.key) {
    case GLFW_KEY_R:
      use_tool(frame, MarkKind::kRim);
      break;
    case GLFW_KEY_F:
      use_tool(frame, MarkKind::kBase);
      break;
    case GLFW_KEY_L:
      use_tool(frame, MarkKind::kLeft);
      break;
    case GLFW_KEY_T:
      use_tool(frame, MarkKind::kRight);
      break;
    case GLFW_KEY_C:
      use_tool(frame, MarkKind::kReference);
      break;
    case GLFW_KEY_X:
      mark_crossings(frame);
      break;
    case GLFW_KEY_O:
      use_trace_tool(frame, TraceTool::kBox);
      break;
    case GLFW_KEY_P:
      use_trace_tool(frame, TraceTool::kPaintVessel);
      break;
    case GLFW_KEY_A:
      use_trace_tool(frame, TraceTool::kPaintAway);
      break;
    case GLFW_KEY_U:
      use_trace_tool(frame, TraceTool::kRubOut);
      break;
    case GLFW_KEY_LEFT_BRACKET:
    case GLFW_KEY_RIGHT_BRACKET:
      change_brush(frame, press.key == GLFW_KEY_RIGHT_BRACKET);
      break;
    case GLFW_KEY_V:
      frame.state.tool = Tool{};
      break;
    case GLFW_KEY_E:
      frame.ask(SnapMarks{work.selection});
      break;
    case GLFW_KEY_DELETE:
    case GLFW_KEY_BACKSPACE:
      if (!work.selection.empty()) frame.ask(Perform{RemoveMarks{work.selection}});
      break;
    case GLFW_KEY_LEFT:
    case GLFW_KEY_RIGHT:
      if (sheet) {
        turn_page(frame, press.key == GLFW_KEY_LEFT ? -1 : 1);
        break;
      }
      nudge(frame, press);
      break;
    case GLFW_KEY_UP:
    case GLFW_KEY_DOWN:
      nudge(frame, press);
      break;
    case GLFW_KEY_PAGE_UP:
      sheet ? turn_page(frame, -1) : show_next_photo(frame, -1);
      break;
    case GLFW_KEY_PAGE_DOWN:
      sheet ? turn_page(frame, 1) : show_next_photo(frame, 1);
      break;
    case GLFW_KEY_TAB:
      select_next(frame, press.shift);
      break;
    case GLFW_KEY_EQUAL:
    case GLFW_KEY_KP_ADD:
      zoom(frame, kZoomStep, box);
      break;
    case GLFW_KEY_MINUS:
    case GLFW_KEY_KP_SUBTRACT:
      zoom(frame, 1.0 / kZoomStep, box);
      break;
    case GLFW_KEY_0:
    case GLFW_KEY_KP_0:
      work.fitted = false;
      break;
    case GLFW_KEY_9:
    case GLFW_KEY_KP_9:
      zoom(frame, 1.0 / work.transform.scale(), box);
      break;
    default:
      break;
  }
}

}  // namespace

void apply_shortcuts(Frame& frame, ScreenBox photo_box) {
  const ImGuiIO& io = ImGui::GetIO();
  BenchState& state = frame.state;
  if (state.frames_after_typing > 0 && --state.frames_after_typing == 0) {
    for (const KeyPress& press : std::exchange(state.keys_after_typing, {})) {
      with_ctrl(frame, press);
    }
  }
  for (const KeyPress& press : frame.input.keys) {
    if (press.ctrl && io.WantTextInput && puts_typing_at_risk(press)) {
      // What is being typed counts: the field gives it up first.
      ImGui::SetWindowFocus(nullptr);
      state.keys_after_typing.push_back(press);
      state.frames_after_typing = kFramesToGiveUp;
      continue;
    }
    if (press.ctrl) {
      with_ctrl(frame, press);
      continue;
    }
    if (press.key == GLFW_KEY_F1 ||
        (!io.WantTextInput && press.key == GLFW_KEY_SLASH && press.shift)) {
      state.middle = state.middle == Middle::kHelp ? Middle::kPhoto : Middle::kHelp;
      continue;
    }
    if (press.key == GLFW_KEY_F6) {
      state.keys_for_panels = !state.keys_for_panels;
      state.focus_panels = state.keys_for_panels;
      kit::say(frame, state.keys_for_panels
                          ? "The arrow keys, Space and Enter now work the panels. F6 ends that."
                          : "The keys work on the photograph again.");
      continue;
    }
    if (io.WantTextInput) continue;
    if (press.key == GLFW_KEY_ESCAPE) {
      if (state.keys_for_panels) {
        state.keys_for_panels = false;
      } else {
        leave_tool(frame);
      }
      continue;
    }
    if (!frame.session.open()) continue;
    if (press.key == GLFW_KEY_H) {
      state.step = Step::kCompare;
      state.middle = Middle::kPhoto;
      continue;
    }
    if (press.key >= GLFW_KEY_1 && press.key <= GLFW_KEY_8) {
      state.step = kSteps[static_cast<std::size_t>(press.key - GLFW_KEY_1)];
      state.middle = Middle::kPhoto;
      continue;
    }
    Settings settings = frame.settings;
    switch (press.key) {
      case GLFW_KEY_G:
        if (state.narrow) {
          state.narrow_figures = !state.narrow_figures;
        } else {
          settings.figures_folded = !settings.figures_folded;
        }
        frame.ask(ChangeSettings{settings});
        continue;
      case GLFW_KEY_B:
        settings.steps_folded = !settings.steps_folded;
        frame.ask(ChangeSettings{settings});
        continue;
      case GLFW_KEY_D:
        settings.theme = frame.look.evening ? Theme::kDaylight : Theme::kEvening;
        frame.ask(ChangeSettings{settings});
        continue;
      default:
        break;
    }
    const bool page = has_page(state.step) && state.step != Step::kTemplates;
    if (page || state.keys_for_panels || state.middle != Middle::kPhoto) continue;
    on_photo(frame, press, photo_box);
  }
}

}  // namespace potshadow

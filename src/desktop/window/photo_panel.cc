// SPDX-License-Identifier: MIT
#include <imgui.h>
#include <imgui_stdlib.h>

#include <cmath>

#include "core/typed_number.h"
#include "desktop/window/camera_fold.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/photograph_list.h"
#include "desktop/words/cautions.h"
#include "desktop/words/figure_text.h"
#include "desktop/words/photo_words.h"

namespace potshadow {
namespace {

constexpr double kLongestFocal = 2000.0;    // mm as on 35 mm film; longer lenses are not handheld
constexpr double kDefaultFocalDoubt = 2.0;  // percent, as a project has it where none is given
constexpr double kMostFocalDoubt = 50.0;    // percent; beyond, the focal length says nothing
constexpr double kThickestPane = 100.0;     // mm
constexpr double kLeastIndex = 1.0;         // of air
constexpr double kMostIndex = 2.5;          // of diamond
constexpr const char* kUsually =
    "Two times in three it lies within this, 19 times in 20 within twice as much.";

const PhotoFacts* facts_of(const Frame& frame) {
  const PhotoView& view = frame.session.photo();
  return view.facts ? &*view.facts : nullptr;
}

void fact(Frame& frame, const FactRow& row) {
  kit::row(frame, row.label, row.value);
  kit::tip(frame, row.note.empty() ? "" : with_large_start(row.note) + ".");
  if (row.doubtful && !row.note.empty()) kit::doubt(frame, with_large_start(row.note) + ".");
}

// What is wrong with the picture, and what is to be looked out for.
void trouble(Frame& frame, const ProjectPhoto& photo) {
  const PhotoView& view = frame.session.photo();
  const bool adjusted = frame.session.adjust() != ViewAdjust{};
  if (kit::busy(frame, view.busy, adjusted ? "Shows the photograph as it is." : "")) {
    frame.ask(AdjustView{});
  }
  if (view.problem) {
    kit::problem(frame, *view.problem);
    if (kit::button(frame, "Find the photograph",
                    {.tooltip = "Show where the file is now. Your marks stay.", .accent = true})) {
      open_browser(frame, BrowsePurpose::kFindPhoto);
    }
  }
  for (const Note& note : view.notes) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
  }
  for (const Note& note : photo_warnings(facts_of(frame), photo)) kit::doubt(frame, note.text);
}

void facts_found(Frame& frame, const ProjectPhoto& photo) {
  const PhotoFacts* const facts = facts_of(frame);
  if (facts == nullptr) return;
  kit::heading(frame, "What the file tells");
  for (const FactRow& row : found_rows(*facts, photo)) fact(frame, row);
}

void lens(Frame& frame, const ProjectPhoto& photo) {
  kit::heading(frame, "Lens");
  SetLens set{frame.state.photo, photo.focal_35mm, photo.focal_sd_percent, photo.cropped};
  const PhotoFacts* const facts = facts_of(frame);
  const bool file_says = facts != nullptr && facts->focal;
  const auto focal = kit::number(
      frame, "Focal length, as on 35 mm film", photo.focal_35mm,
      {.unit = "mm",
       .tooltip = "Leave it empty to use what the file says; without either it is found from the "
                  "marks. 35 mm film shows what most cameras call their equivalent.",
       .decimals = 1,
       .hint = file_says ? typed_text(facts->focal->focal_35mm, 1) : "not known"});
  if (focal) {
    if (*focal && !(**focal > 0.0 && **focal <= kLongestFocal)) {
      kit::complain(frame, "That is not the focal length of a camera's lens.",
                    "Type a number of millimetres, such as 26 or 50, or leave it empty.");
    } else {
      set.focal_35mm = *focal;
      if (!set.focal_35mm) set.focal_sd_percent.reset();
      frame.ask(Perform{set});
    }
  }
  if (photo.focal_35mm) {
    const auto doubt = kit::number(frame, "Focal length usually within ±",
                                   photo.focal_sd_percent.value_or(kDefaultFocalDoubt),
                                   {.unit = "%", .tooltip = kUsually});
    if (doubt) {
      if (*doubt && !(**doubt > 0.0 && **doubt <= kMostFocalDoubt)) {
        kit::complain(frame, "That is not how sure one can be of a focal length.",
                      "Type a percentage above 0 and up to 50, or leave it empty for 2.");
      } else {
        set.focal_sd_percent = *doubt;
        frame.ask(Perform{set});
      }
    }
  }
  bool cropped = photo.cropped;
  if (kit::check(frame, "Cropped picture", cropped,
                 "Tick it where the picture was cut out of a larger one: the middle of the frame "
                 "is then lost, and the intervals grow.")) {
    set.cropped = cropped;
    frame.ask(Perform{set});
  }
}

void pane(Frame& frame, const ProjectPhoto& photo) {
  kit::heading(frame, "Pane");
  bool behind = photo.glass.has_value();
  if (kit::check(frame, "Behind glass", behind,
                 "A pane shifts what is seen through it by up to a third of its thickness.")) {
    frame.ask(Perform{SetGlass{
        frame.state.photo, behind ? std::optional<ProjectGlass>(ProjectGlass{}) : std::nullopt}});
    return;
  }
  if (!photo.glass) return;
  ProjectGlass glass = *photo.glass;
  bool changed = false;
  const auto take = [&](const std::optional<std::optional<double>>& typed, double& value,
                        double least, double most, const char* next) {
    if (!typed) return;
    if (!*typed || !(**typed >= least && **typed <= most)) {
      kit::complain(frame, "That cannot be so of a pane, so nothing was changed.", next);
      return;
    }
    value = **typed;
    changed = true;
  };
  take(kit::number(frame, "Thickness", glass.thickness_mm,
                   {.unit = "mm",
                    .tooltip = "Of the glass alone; show cases mostly have 6 to 12 "
                               "mm. Its edge often shows at a joint."}),
       glass.thickness_mm, 0.0, kThickestPane, "Type a thickness in millimetres, such as 8.");
  take(kit::number(frame, "Thickness usually within ±", glass.thickness_sd_mm,
                   {.unit = "mm", .tooltip = kUsually}),
       glass.thickness_sd_mm, 0.0, kThickestPane, "Type a number of millimetres, such as 1.");
  if (kit::fold(frame, "What the pane is made of")) {
    take(kit::number(frame, "How strongly it bends light", glass.index,
                     {.tooltip = "Its refractive index: 1.52 for window glass, 1.49 for acrylic.",
                      .decimals = 3}),
         glass.index, kLeastIndex, kMostIndex, "Type 1.52 for glass or 1.49 for acrylic.");
  }
  if (changed) frame.ask(Perform{SetGlass{frame.state.photo, glass}});
}

void turning(Frame& frame, const ProjectPhoto& photo) {
  kit::heading(frame, "Upright");
  const bool known = photo.record.width_px && photo.record.height_px;
  const std::string reason = "The picture's size is not known yet. Show where the photograph is.";
  const double half = 0.5 * (ImGui::GetContentRegionAvail().x / frame.look.scale - 8.0);
  if (kit::button(frame, "Turn left",
                  {.enabled = known,
                   .reason = reason,
                   .tooltip = "A quarter turn to the left; the marks turn with it.",
                   .width = half})) {
    frame.ask(Perform{TurnPhoto{frame.state.photo, -1}});
  }
  ImGui::SameLine();
  if (kit::button(frame, "Turn right",
                  {.enabled = known,
                   .reason = reason,
                   .tooltip = "A quarter turn to the right; the marks turn with it.",
                   .width = half})) {
    frame.ask(Perform{TurnPhoto{frame.state.photo, 1}});
  }
}

void view(Frame& frame) {
  kit::heading(frame, "View");
  kit::note(frame, "For your eyes only: the file and the figures never change.");
  ViewAdjust adjust = frame.session.adjust();
  bool changed = kit::slider(frame, "Brightness", adjust.brightness, -0.6, 0.6, 0.0, "");
  // The slider works on doublings of gamma, so that both directions have the same room.
  double stops = std::log2(adjust.gamma);
  if (kit::slider(frame, "Shadows", stops, -1.5, 1.5, 0.0, "")) {
    adjust.gamma = std::exp2(stops);
    changed = true;
  }
  changed |= kit::slider(frame, "Local contrast", adjust.local_contrast, 0.0, 1.0, 0.0, "");
  changed |= kit::check(frame, "Edges only", adjust.edges,
                        "Draws only lines where brightness changes, for a vessel before a ground "
                        "of its own colour.");
  if (changed) frame.ask(AdjustView{adjust});
  if (adjust != ViewAdjust{} &&
      kit::link(frame, "As it is", "Show the photograph without any adjustment.")) {
    frame.ask(AdjustView{});
  }
}

constexpr const char* kWriting = "Writing notes";

// Several lines of text, taken over once the field is left.
void notes_field(Frame& frame) {
  constexpr double kHeight = 96.0;
  bool& writing = frame.state.open_folds[kWriting];
  const char* const id = "##Notes";
  const ImGuiID key = ImGui::GetID(id);
  auto& edits = frame.state.edits;
  const std::string& saved = frame.document().notes;
  std::string text = edits.contains(key) ? edits[key] : saved;
  ImGui::InputTextMultiline(id, &text,
                            ImVec2(ImGui::GetContentRegionAvail().x, frame.look.px(kHeight)));
  const bool active = ImGui::IsItemActive();
  if (ImGui::IsItemDeactivated()) writing = false;
  if (ImGui::IsItemDeactivatedAfterEdit() && text != saved) frame.ask(Perform{SetNotes{text}});
  if (active) {
    edits[key] = text;
  } else {
    edits.erase(key);
  }
  ImGui::GetWindowDrawList()->AddRect(
      ImGui::GetItemRectMin(), ImGui::GetItemRectMax(),
      paint(active ? frame.look.colours.accent : frame.look.colours.line),
      ImGui::GetStyle().FrameRounding, 0, frame.look.px(active ? 2 : 1));
  kit::describe_last(frame, "Notes");
}

void vessel(Frame& frame) {
  kit::heading(frame, "Vessel");
  const auto name =
      kit::text(frame, "Name of the vessel", frame.document().name,
                {.tooltip = "Stands on the template and in reports.", .hint = "Shelf jar"});
  if (name) frame.ask(Perform{SetName{*name}});
  const std::string& notes = frame.document().notes;
  if (!kit::fold(frame, "Notes", !notes.empty())) return;
  bool& writing = frame.state.open_folds[kWriting];
  if (notes.empty() || writing) {
    notes_field(frame);
    return;
  }
  kit::note(frame, notes);
  if (kit::link(frame, "Change the notes")) {
    writing = true;
    ImGui::SetKeyboardFocusHere();  // the field that stands next
    notes_field(frame);
  }
}

}  // namespace

void photo_panel(Frame& frame) {
  const ProjectPhoto* const photo = frame.photo();
  if (photo == nullptr) {
    kit::words(frame, "There is no photograph yet.");
    if (kit::button(frame, "Open a photograph",
                    {.tooltip = "Or drop one on the window.", .accent = true})) {
      open_browser(frame, BrowsePurpose::kOpen);
    }
    return;
  }
  trouble(frame, *photo);
  photograph_list(frame);
  vessel(frame);
  facts_found(frame, *photo);
  if (kit::fold(frame, "What is assumed")) {
    for (const FactRow& row : assumed_rows(facts_of(frame), *photo)) fact(frame, row);
  }
  lens(frame, *photo);
  camera_fold(frame, *photo);
  pane(frame, *photo);
  turning(frame, *photo);
  view(frame);
  kit::space(frame);
  if (kit::fold(frame, "Take care##photo")) {
    for (const std::string_view caution : cautions_for(Step::kPhoto)) {
      kit::note(frame, std::string(caution));
    }
  }
}

}  // namespace potshadow

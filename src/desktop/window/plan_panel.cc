// SPDX-License-Identifier: MIT
#include <optional>
#include <string>
#include <utility>

#include "desktop/window/drawable.h"
#include "desktop/window/kit.h"
#include "desktop/window/number_fields.h"
#include "desktop/window/panels.h"
#include "desktop/words/cautions.h"
#include "desktop/words/figures_words.h"
#include "desktop/words/plan_words.h"
#include "project/plan_report.h"

namespace potshadow {
namespace {

using Choice = std::optional<double> ProjectPlan::*;

void choose(Frame& frame, Choice choice, std::optional<double> value) {
  ProjectPlan plan = frame.document().plan.value_or(ProjectPlan{});
  plan.*choice = value;
  const ProjectPlan empty{.kept = plan.kept};
  frame.ask(Perform{
      SetPlan{plan == empty && plan.kept == KeptObject{} ? std::nullopt : std::optional(plan)}});
}

// A length of the wet pot. What is left empty follows from the pot, and is shown as the hint.
void length(Frame& frame, const std::string& label, Choice choice, std::optional<double> follows,
            const std::string& tooltip) {
  const ProjectPlan now = frame.document().plan.value_or(ProjectPlan{});
  const std::string hint = follows ? thickness_text(*follows, frame.settings.unit) : "";
  const auto typed = length_field_or_none(
      frame, {.label = label, .mm = now.*choice, .tooltip = tooltip, .hint = hint});
  if (typed) choose(frame, choice, *typed);
}

void choices(Frame& frame, const BuildPlan* plan) {
  const auto of = [&](auto value) {
    return plan == nullptr ? std::optional<double>() : std::optional<double>(value(*plan));
  };
  kit::heading(frame, "Wall, wet");
  length(frame, "At the foot", &ProjectPlan::wall_mm,
         of([](const BuildPlan& p) { return p.request.wall.foot_mm; }),
         "How thick you build it. Left empty it is the original's wall, enlarged.");
  length(frame, "At the rim", &ProjectPlan::wall_rim_mm,
         of([](const BuildPlan& p) { return p.request.wall.rim_mm; }),
         "Left empty it is as at the foot. In between it changes evenly with height.");
  kit::heading(frame, "Coils and cradle");
  length(frame, "Coil, as rolled", &ProjectPlan::coil_mm,
         of([](const BuildPlan& p) { return p.request.coil_mm; }),
         "How thick a coil is before it is pressed on: one and a half to two walls.");
  length(frame, "Cradle's line", &ProjectPlan::cradle_mm,
         of([](const BuildPlan& p) { return p.cradle.line_mm; }),
         "How high above the bench the cradle (puki) reaches. Below the widest place, or the pot "
         "could not be lifted out.");
  const ProjectPlan now = frame.document().plan.value_or(ProjectPlan{});
  const std::string usual =
      plan == nullptr ? "10" : thickness_text(plan->request.allowance_percent, LengthUnit::kMm);
  const auto spare = kit::number(frame, "For scraping", now.allowance_percent,
                                 {.unit = "%",
                                  .tooltip = "Clay that is scraped off or left over, in percent "
                                             "of what stays in the pot.",
                                  .decimals = 1,
                                  .hint = usual});
  if (spare) choose(frame, &ProjectPlan::allowance_percent, *spare);
}

}  // namespace

void plan_panel(Frame& frame) {
  if (not_drawable_yet(frame, "plan")) return;
  const PlanView& view = frame.session.plan();
  choices(frame, view.plan.get());
  if (view.problem) {
    kit::space(frame);
    kit::problem(frame, *view.problem);
  }
  kit::busy(frame, view.busy);
  if (view.plan != nullptr) {
    kit::space(frame);
    if (kit::button(frame, "Save bench sheet",
                    {.enabled = view.current,
                     .reason = "The plan is from before the last change.",
                     .tooltip = "One page for the wall: sizes at each stage, clay to weigh out, "
                                "cradle, coils and bands.",
                     .accent = true})) {
      open_browser(frame, BrowsePurpose::kSaveBenchSheet);
    }
    if (kit::button(frame, "Copy as text",
                    {.enabled = view.current,
                     .reason = "The plan is from before the last change.",
                     .tooltip = "The whole plan on the clipboard, to print or to keep."})) {
      frame.ask(CopyText{
          plan_text(*view.measurement, *view.plan, frame.session.title(), frame.settings.unit),
          "Copied the plan as text."});
    }
  }
  kit::space(frame);
  if (kit::fold(frame, "Take care##plan", true)) {
    for (const std::string_view caution : cautions_for(Step::kPlan)) {
      kit::note(frame, std::string(caution));
    }
  }
}

}  // namespace potshadow

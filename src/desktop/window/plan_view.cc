// SPDX-License-Identifier: MIT
#include <imgui.h>

#include <algorithm>
#include <string>
#include <vector>

#include "desktop/window/drawable.h"
#include "desktop/window/kit.h"
#include "desktop/window/panels.h"
#include "desktop/window/plan_bands.h"
#include "desktop/window/plan_drawing.h"
#include "desktop/window/table.h"
#include "desktop/words/figures_words.h"
#include "desktop/words/plan_words.h"
#include "project/plan_report.h"

namespace potshadow {
namespace {

constexpr double kWidest = 1080.0;
constexpr double kDrawingPart = 0.46;   // of the page's width
constexpr double kLeastBeside = 620.0;  // narrower pages have the drawing above the tables
constexpr double kMostDrawing = 460.0;

void amounts(Frame& frame, const BuildPlan& plan) {
  kit::heading(frame, "To weigh out");
  std::vector<kit::TableRow> rows;
  for (const AmountRow& row : amount_rows(plan)) {
    rows.push_back({.cells = {row.label, row.value}, .tooltip = row.meaning});
  }
  kit::table(frame, "amounts", {{.heading = "", .fills = true}, {"", true}}, rows);
}

void coils(Frame& frame, const BuildPlan& plan) {
  const std::string unit(unit_name(frame.settings.unit));
  kit::heading(frame, "Coil by coil, in " + unit);
  std::vector<kit::TableRow> rows;
  for (const CoilRow& row : coil_rows(plan, frame.settings.unit)) {
    rows.push_back({.cells = {row.number, row.from, row.to, row.girth, row.roll, row.leans},
                    .tooltip = row.sags ? "Here the wall is likeliest to sag." : "",
                    .doubtful = row.sags});
  }
  kit::table(frame, "coils",
             {{"Coil", true},
              {"From", true},
              {"To", true},
              {"Girth", true},
              {"Roll", true},
              {.heading = "Leans", .fills = true}},
             rows);
  kit::note(frame, coils_sentence(plan) + " Girth is round the outside, halfway up the coil.");
}

void sentences(Frame& frame, const BuildPlan& plan) {
  kit::heading(frame, "Cradle");
  kit::note(frame, cradle_sentence(plan, frame.settings.unit));
  kit::heading(frame, "Where it may sag");
  const std::string sag = sag_sentence(plan, frame.settings.unit);
  plan.sag ? kit::doubt(frame, sag) : kit::note(frame, sag);
  for (const Note& note : plan.notes) {
    note.doubtful ? kit::doubt(frame, note.text) : kit::note(frame, note.text);
  }
}

void drawing(Frame& frame, const BuildPlan& plan, bool current) {
  const double width = static_cast<double>(ImGui::GetContentRegionAvail().x);
  const double height =
      plan_drawing_height(frame, plan, width, static_cast<double>(frame.look.px(kMostDrawing)));
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  plan_drawing(frame, plan, current,
               {static_cast<double>(corner.x), static_cast<double>(corner.y), width, height});
  ImGui::Dummy(ImVec2(static_cast<float>(width), static_cast<float>(height)));
}

}  // namespace

void plan_view(Frame& frame) {
  const kit::Page page(frame, "plan page", kWidest);
  if (not_drawable_yet(frame, "plan")) return;
  const PlanView& view = frame.session.plan();
  if (view.plan == nullptr) {
    view.problem ? kit::problem(frame, *view.problem)
                 : kit::words(frame, "The plan is being worked out.");
    return;
  }
  const BuildPlan& plan = *view.plan;
  if (view.problem) {
    kit::doubt(frame, "This plan is from before the last change.");
    kit::problem(frame, *view.problem);
    kit::space(frame);
  }
  const ImVec2 room = ImGui::GetContentRegionAvail();
  if (room.x < frame.look.px(kLeastBeside)) {
    drawing(frame, plan, view.current);
    amounts(frame, plan);
    coils(frame, plan);
    plan_bands(frame, plan);
    sentences(frame, plan);
    return;
  }
  // Side by side on one page, which scrolls as a whole.
  const float gap = frame.look.px(32);
  const float width = static_cast<float>(kDrawingPart) * room.x;
  ImGui::PushStyleVar(ImGuiStyleVar_CellPadding, ImVec2(0.0F, 0.0F));
  const bool begun = ImGui::BeginTable("plan", 3, ImGuiTableFlags_NoClip);
  ImGui::PopStyleVar();
  if (!begun) return;
  ImGui::TableSetupColumn("drawing", ImGuiTableColumnFlags_WidthFixed, width);
  ImGui::TableSetupColumn("gap", ImGuiTableColumnFlags_WidthFixed, gap);
  ImGui::TableSetupColumn("tables", ImGuiTableColumnFlags_WidthFixed, room.x - width - gap);
  ImGui::TableNextColumn();
  drawing(frame, plan, view.current);
  sentences(frame, plan);
  ImGui::TableNextColumn();
  ImGui::TableNextColumn();
  amounts(frame, plan);
  coils(frame, plan);
  plan_bands(frame, plan);
  ImGui::EndTable();
}

}  // namespace potshadow

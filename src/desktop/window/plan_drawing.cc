// SPDX-License-Identifier: MIT
#include "desktop/window/plan_drawing.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "desktop/window/kit.h"
#include "desktop/window/section_drawing.h"
#include "desktop/window/section_shape.h"
#include "desktop/words/plan_words.h"

namespace potshadow {
namespace {

constexpr double kStaleOpacity = 0.4;
// Room around the pot, at 100 %.
constexpr double kSide = 16.0;
constexpr double kAbove = 8.0;
constexpr double kBelow = 40.0;
constexpr double kCradleWall = 8.0;  // of its drawn thickness

SectionShape shape_of(const BuildPlan& plan) {
  return section_shape(plan.request.wet_profile, plan.request.wall.foot_mm,
                       plan.request.wall.rim_mm);
}

// Where the outline is at a height, the first time it gets there from the foot.
double radius_at(const SectionShape& shape, double height_mm) {
  for (std::size_t i = 1; i < shape.outer.size(); ++i) {
    const ProfilePoint& below = shape.outer[i - 1];
    const ProfilePoint& above = shape.outer[i];
    if (above.height_mm < height_mm) continue;
    const double rise = above.height_mm - below.height_mm;
    const double part = rise > 0.0 ? (height_mm - below.height_mm) / rise : 0.0;
    return below.radius_mm + part * (above.radius_mm - below.radius_mm);
  }
  return shape.outer.back().radius_mm;
}

void draw_coils(const Frame& frame, ImDrawList& list, const BuildPlan& plan,
                const SectionShape& shape, const Upright& place, double opacity) {
  const ImU32 colour = paint(frame.look.colours.drawing, 0.45 * opacity);
  std::vector<double> joints{plan.cradle.line_mm};
  for (const Coil& coil : plan.coils) joints.push_back(coil.high_mm);
  joints.pop_back();  // the rim
  for (const double height : joints) {
    list.AddLine(place.at(0.0, height, 1.0), place.at(radius_at(shape, height), height, 1.0),
                 colour, frame.look.px(1));
  }
}

// The cradle: a bowl drawn around the lower profile up to its line.
void draw_cradle(const Frame& frame, ImDrawList& list, const BuildPlan& plan,
                 const SectionShape& shape, const Upright& place, double opacity) {
  const float wall = frame.look.px(kCradleWall);
  const ImU32 colour = paint(frame.look.colours.line, opacity);
  for (const double side : {-1.0, 1.0}) {
    std::vector<ImVec2> path;
    for (const ProfilePoint& p : shape.outer) {
      if (p.height_mm > plan.cradle.line_mm) break;
      const ImVec2 at = place.at(p, side);
      path.emplace_back(at.x + static_cast<float>(side) * wall, at.y + 0.5F * wall);
    }
    const ImVec2 lip = place.at(radius_at(shape, plan.cradle.line_mm), plan.cradle.line_mm, side);
    path.emplace_back(lip.x + static_cast<float>(side) * wall, lip.y);
    path.emplace_back(lip.x + static_cast<float>(side) * frame.look.px(2), lip.y);
    const ImVec2 foot = place.at(0.0, 0.0, side);
    path.insert(path.begin(), ImVec2(foot.x, foot.y + 0.5F * wall));
    list.AddPolyline(path.data(), static_cast<int>(path.size()), colour, 0, frame.look.px(1.5));
  }
}

}  // namespace

double plan_drawing_height(const Frame& frame, const BuildPlan& plan, double width, double most) {
  const SectionShape shape = shape_of(plan);
  const double room = width - 2.0 * static_cast<double>(frame.look.px(kSide));
  const double needed = room / (2.0 * shape.widest_mm) * shape.top_mm;
  return std::min(most, needed + static_cast<double>(frame.look.px(kAbove + kBelow)));
}

void plan_drawing(Frame& frame, const BuildPlan& plan, bool current, ScreenBox box) {
  const SectionShape shape = shape_of(plan);
  const auto px = [&](double v) { return static_cast<double>(frame.look.px(v)); };
  const double room_x = box.width - 2.0 * px(kSide);
  const double room_y = box.height - px(kAbove) - px(kBelow);
  if (!(room_x > 0.0 && room_y > 0.0 && shape.widest_mm > 0.0)) return;
  const double scale = std::min(room_x / (2.0 * shape.widest_mm), room_y / shape.top_mm);
  const Upright place{
      {box.left + 0.5 * box.width, box.top + px(kAbove) + 0.5 * (room_y + scale * shape.top_mm)},
      scale};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const double opacity = current ? 1.0 : kStaleOpacity;
  draw_cradle(frame, list, plan, shape, place, opacity);
  draw_coils(frame, list, plan, shape, place, opacity);
  draw_section(frame.look, list, shape, place, opacity);
  if (plan.sag) {
    const double height = plan.sag->height_mm;
    const ImVec2 at = place.at(radius_at(shape, height), height, 1.0);
    kit::wave(frame, list, ImVec2(at.x + frame.look.px(6), at.y), frame.look.px(14),
              paint(frame.look.colours.doubt, opacity));
  }
  const float foot = static_cast<float>(box.top + box.height - px(12));
  draw_scale_bar(frame, list, frame.settings.unit, scale,
                 ImVec2(static_cast<float>(box.left + px(kSide)), foot), room_x, opacity);
}

}  // namespace potshadow

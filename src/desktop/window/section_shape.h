// SPDX-License-Identifier: MIT
// What the drawn vessel is made of: its outline, its cut wall, and the band of its interval.
#pragma once

#include <imgui.h>

#include <span>
#include <vector>

#include "desktop/canvas/photo_transform.h"
#include "desktop/window/look.h"
#include "estimate/answer.h"
#include "vessel/profile.h"

namespace potshadow {

// A vessel's outline and the inside of its cut wall, ready to be drawn.
struct SectionShape {
  std::vector<ProfilePoint> outer;  // base first
  std::vector<ProfilePoint> inner;  // the place on the other side of the wall of each of `outer`
  double base_radius_mm = 0.0;
  double top_mm = 0.0;
  double widest_mm = 0.0;  // radius
  double wall_mm = 0.0;    // at the foot
  double least_mm = 0.0;   // of the wall's thickness
};
SectionShape section_shape(const Profile& profile, double wall_mm);
// The wall's thickness changes evenly with height.
SectionShape section_shape(const Profile& profile, double foot_mm, double rim_mm);

// From the vessel's half-plane to the window; side -1 is the left half.
struct Upright {
  ScreenPoint foot;    // where axis and shelf meet
  double scale = 1.0;  // window pixels a millimetre
  ImVec2 at(double radius_mm, double height_mm, double side) const {
    return ImVec2(static_cast<float>(foot.x + side * scale * radius_mm),
                  static_cast<float>(foot.y - scale * height_mm));
  }
  ImVec2 at(const ProfilePoint& p, double side) const { return at(p.radius_mm, p.height_mm, side); }
};

// Draws the cut wall on the left of the axis and the exterior on the right. Where a row says that
// the profile is not known (profile_words.h) lines are dashed and the cut is left empty.
void draw_section(const Look& look, ImDrawList& list, const SectionShape& shape,
                  const Upright& place, double opacity, std::span<const ProfileRow> rows = {});

// Draws the band of the interval on both sides, cut off at the edges of the box. Rows in the
// lengths of `place`, base first.
void draw_interval(ImDrawList& list, std::span<const ProfileRow> rows, const Upright& place,
                   ImU32 colour, const ScreenBox& box);

// Fills the hollow of the vessel up to the brim, where the section shows it.
void fill_inside(ImDrawList& list, const SectionShape& shape, const Upright& place, ImU32 colour);

}  // namespace potshadow

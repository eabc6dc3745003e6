// SPDX-License-Identifier: MIT
// The vessel drawn upright at true proportion: left half in section, right half from outside.
#pragma once

#include <optional>
#include <vector>

#include "desktop/canvas/photo_transform.h"
#include "desktop/window/frame.h"
#include "vessel/profile.h"

namespace potshadow {

// Draws the vessel of `measurement` into the box: cut wall on the left, exterior on the right, the
// centre line, the interval as a band, a scale bar, and lines for the sizes; that of
// state.canvas.lit_size is lit. Greyed where `current` is false. Returns the size at whose line
// the pointer is. Source of the convention: archaeological illustration, section on the left,
// exterior on the right (common practice, no source).
std::optional<SizeName> section_drawing(Frame& frame, const Measurement& measurement, bool current,
                                        ScreenBox box);

// Returns the height in window pixels that the drawing needs to fill the width; at most `most`.
double section_height(const Frame& frame, const Measurement& measurement, double width,
                      double most);

// A vessel's outline and the inside of its cut wall, ready to be drawn.
struct SectionShape {
  std::vector<ProfilePoint> outer;  // base first
  std::vector<ProfilePoint> inner;  // the place on the other side of the wall of each of `outer`
  double base_radius_mm = 0.0;
  double top_mm = 0.0;
  double widest_mm = 0.0;  // radius
  double wall_mm = 0.0;
};
SectionShape section_shape(const Profile& profile, double wall_mm);

// Draws the cut wall on the left of the axis and the exterior on the right. `foot` is where axis
// and shelf meet, `scale` window pixels a millimetre.
void draw_section(const Look& look, ImDrawList& list, const SectionShape& shape, ScreenPoint foot,
                  double scale, double opacity);

}  // namespace potshadow

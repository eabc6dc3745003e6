// SPDX-License-Identifier: MIT
// Fonts, colours and measures of the window, at one scale and in one theme.
#pragma once

#include <imgui.h>

#include <string>

#include "core/result.h"
#include "desktop/canvas/palette.h"

// All measures are given at 100 % and multiplied by the scale; one grid of 8. Fonts are found by
// name through fontconfig: Inter, else DejaVu Sans, else whatever sans serif there is.
namespace potshadow {

struct Fonts {
  ImFont* text = nullptr;    // 15
  ImFont* note = nullptr;    // 13
  ImFont* strong = nullptr;  // 15, semi-bold
  ImFont* figure = nullptr;  // 22, semi-bold, digits of one width
  ImFont* title = nullptr;   // 28
};

struct Look {
  double scale = 1.0;
  bool evening = false;
  ThemeColours colours;
  Fonts fonts;

  float px(double at_100_percent) const { return static_cast<float>(at_100_percent * scale); }
};

// Returns the look, with its fonts loaded into Dear ImGui's atlas and its style set. Call between
// frames; the font texture must then be made anew. A note where neither Inter nor DejaVu is found.
Result<Look> make_look(double scale, bool evening);

ImU32 paint(Colour colour, double opacity = 1.0);
ImVec4 paint_vec(Colour colour, double opacity = 1.0);

}  // namespace potshadow

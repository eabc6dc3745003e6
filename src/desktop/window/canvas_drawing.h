// SPDX-License-Identifier: MIT
// What is drawn over the photograph: marks, the fitted vessel, references, dimension lines.
#pragma once

#include <imgui.h>

#include <string>
#include <vector>

#include "desktop/window/frame.h"

// Everything is given in photo pixels and shown through state.canvas.transform, clipped to the box.
namespace potshadow {

// The fitted vessel: the outline with its interval as a band, rim and foot with hidden parts
// dashed, the axis; solved references with the lengths of their edges. Grey where it is not
// current.
void draw_fit(Frame& frame, ImDrawList& list);

// The ellipse through the rim marks, and through a disc's edge marks, before anything is estimated.
void draw_ellipses(Frame& frame, ImDrawList& list);

// The sizes as dimension lines: all of them from the Sizes step on, else the one pointed at.
void draw_dimensions(Frame& frame, ImDrawList& list);

// Whiskers from the marks towards where the fit would have them, longer than they are so that they
// can be seen; the worst is named.
void draw_whiskers(Frame& frame, ImDrawList& list);

// Every mark with its shape, the selected with a ring; the edges tool's points; the box that
// selects.
void draw_marks(Frame& frame, ImDrawList& list);

// Returns where points of the photograph show in the window.
ImVec2 on_screen(const Frame& frame, PhotoPoint point);
std::vector<ImVec2> on_screen(const Frame& frame, const std::vector<PhotoPoint>& points);

// A few words on a dark ground, `at` being their left middle, or their middle if `centred`.
void draw_tag(Frame& frame, ImDrawList& list, ImVec2 at, const std::string& text, bool centred);

}  // namespace potshadow

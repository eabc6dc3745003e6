// SPDX-License-Identifier: MIT
// Boxes and strokes by which the outline is found, as they are pulled over the photograph.
#pragma once

#include <cstddef>
#include <optional>

#include "desktop/canvas/photo_transform.h"
#include "desktop/window/frame.h"

namespace potshadow {

// Narrowest and widest brush, in window pixels at 100 %.
inline constexpr double kLeastBrush = 4.0;
inline constexpr double kMostBrush = 64.0;

// Returns the box and strokes that painting adds to: of what is being looked for or came to
// nothing, else of what was found. Null where there are none.
const ProjectTrace* trace_to_mend(const Frame& frame);

// Returns why the tool cannot be used on this photograph, or empty words.
std::string trace_tool_reason(const Frame& frame, TraceTool tool);

// Takes up the tool in the Outline step; complains where it cannot be used.
void use_trace_tool(Frame& frame, TraceTool tool);

// Makes the brush a step wider or narrower.
void change_brush(Frame& frame, bool wider);

// Returns how wide the brush is on the photograph.
double brush_width_px(const Frame& frame);

// A pull of the tool in hand begins, goes on and ends. Requires ToolKind::kTrace.
void trace_press(Frame& frame, ScreenPoint at);
void trace_hold(Frame& frame, ScreenPoint at);
void trace_release(Frame& frame, ScreenPoint at);

// Returns the doubtful stretch at a place in the window, while the Outline step is open.
std::optional<std::size_t> stretch_at(const Frame& frame, ScreenPoint at);

}  // namespace potshadow

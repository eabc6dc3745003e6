// SPDX-License-Identifier: MIT
// What the pointer does on the photograph: marking, moving, selecting, zooming.
#pragma once

#include <vector>

#include "desktop/canvas/photo_transform.h"
#include "desktop/document/command.h"
#include "desktop/window/frame.h"

namespace potshadow {

// How long the magnifier stays at a mark after an arrow key has moved it, in seconds.
inline constexpr double kNudgeShows = 2.0;

// Returns the size of the photograph that is shown; zero before it is decoded.
PictureSize shown_size(const Frame& frame);

// Returns the mark that the tool puts in next.
MarkId next_of_tool(const Frame& frame);

// Returns which part of its reference the tool marks; kVessel where it marks none, or the reference
// takes no marks.
MarkPart part_of_tool(const Frame& frame);

// Returns the command that puts the tool's next mark in at that place. A crossing of a grid gets
// the place in it that the block's corners tell.
AddMark add_mark_of_tool(const Frame& frame, PhotoPoint at);

// Whether the tool collects points that become marks together: of edges, of the shelf's line.
bool collects(const Tool& tool);

// Returns how many photo pixels a snap may move a mark: a dozen on the screen, 2 to 30 in the
// photo.
Px snap_reach(const Frame& frame);

// Works through this frame's pointer events over the photograph. `pointed` says that the pointer is
// over it with nothing in front.
void canvas_input(Frame& frame, ScreenBox box, bool pointed);

// Selects the mark alone, unless it is a traced one, brings it into sight and shows it under the
// magnifier for a while.
void select_mark(Frame& frame, const MarkId& mark);

// Asks to move the selected marks by so much, as one step with the nudges just before.
void nudge_selection(Frame& frame, double dx_px, double dy_px);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The parts of the window, each drawn into the space that is left of the current Dear ImGui window.
#pragma once

#include "desktop/canvas/photo_transform.h"
#include "desktop/window/frame.h"

namespace potshadow {

// --- Left: the steps, the open one with its panel
// -------------------------------------------------
void steps_strip(Frame& frame);
void photo_panel(Frame& frame);
void reference_panel(Frame& frame);
void outline_panel(Frame& frame);
void sizes_panel(Frame& frame);
void clay_panel(Frame& frame);
void plan_panel(Frame& frame);
void templates_panel(Frame& frame);
void check_panel(Frame& frame);
void compare_panel(Frame& frame);

// --- Middle
// -----------------------------------------------------------------------------------------
void photo_canvas(Frame& frame, ScreenBox box);  // the photograph, marks, fit, magnifier
void sheet_view(Frame& frame);                   // the template, page by page
void plan_view(Frame& frame);                    // the section, coil by coil, the clay to weigh out
void check_view(Frame& frame);                   // the pot on the bench, size by size
void compare_view(Frame& frame);                 // the replica against the original
void clay_view(Frame& frame);                    // the sizes at each stage, the book of clays
void browser_view(Frame& frame);                 // files and folders
void help_view(Frame& frame);                    // what the keys do
void welcome_view(Frame& frame);                 // nothing is open

// --- Right
// ------------------------------------------------------------------------------------------
void figures_side(Frame& frame);  // live figures, the drawn section, notes

// --- Over everything
// ----------------------------------------------------------------------------------
void question_view(
    Frame& frame);  // leaving with unsaved work: the only thing that must be answered

// The offer of work that a crash left behind, above everything else in the middle.
float recovery_banner_height(const Frame& frame);  // 0 where there is none
void recovery_banner(Frame& frame, ScreenBox box);

// Opens the in-window browser for a purpose, in the folder that fits.
void open_browser(Frame& frame, BrowsePurpose purpose);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The pieces of the Templates step's panel.
#pragma once

#include "desktop/window/frame.h"

namespace potshadow {

// Which thing is printed or cut.
void choose_printed(Frame& frame);
// For which stage, which hand; how the painting is unrolled.
void sheet_choices(Frame& frame);
// The pages: one before, one after, and a map of them all.
void page_map(Frame& frame);
// Paper, and how pages lie.
void paper_choice(Frame& frame);
// For which printer, and the form that measures one.
void printer_choice(Frame& frame);

// Changes what is remembered of printing; the pages begin anew.
void change_print(Frame& frame, const PrintSettings& print);

}  // namespace potshadow

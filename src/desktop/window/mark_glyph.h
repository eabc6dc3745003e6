// SPDX-License-Identifier: MIT
// The shape of each kind of mark: told apart in grey as well as in colour.
#pragma once

#include <imgui.h>

#include "desktop/document/document.h"
#include "desktop/window/look.h"
#include "estimate/input.h"

namespace potshadow {

// Draws a mark's shape about `centre`, which stays open so that the photograph shows there: rim a
// ring, foot a bar, left and right outline wedges that point outwards, reference a corner hook.
// `radius` is in pixels; `grown` is 1, more where the pointer is near; a dark halo lies beneath.
void mark_glyph(ImDrawList& list, ImVec2 centre, float radius, MarkKind kind, double grown,
                const Look& look);

// Draws the shape of a mark on a reference: a corner's and edge's hook, a cross for an end, a
// crossing or the shelf's line; a neighbour's are shaped like those of the vessel, but diamonds in
// place of rings, double bars and open wedges. All are in the colour of references.
void reference_glyph(ImDrawList& list, ImVec2 centre, float radius, MarkPart part, double grown,
                     const Look& look);

// Draws a line with a dark halo beneath it.
void haloed_line(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float width);

// Draws a line through points, with a halo; `dash` > 0 leaves gaps as long as the dashes.
void haloed_path(ImDrawList& list, const ImVec2* points, int count, ImU32 colour, float width,
                 float dash, bool halo = true);

}  // namespace potshadow

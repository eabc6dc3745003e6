// SPDX-License-Identifier: MIT
// The row that chooses what to mark on a vessel: the mark's shape, its name and how many there are.
#pragma once

#include <string>

#include "desktop/window/kit.h"

namespace potshadow {

// Returns whether it was pressed. `part` is kVessel for the vessel itself, else a neighbour's part;
// `count` may be empty. `look` as for kit::choice.
bool mark_choice(Frame& frame, const std::string& title, MarkKind kind, MarkPart part, bool chosen,
                 const std::string& count, const kit::ButtonLook& look);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// Which reference is chosen, and taking up the tools that mark it.
#pragma once

#include <cstddef>

#include "desktop/window/frame.h"

namespace potshadow {

// Returns the tool that marks that reference of the photograph that is shown.
inline Tool marking_tool(std::size_t reference, ToolKind kind = ToolKind::kMark) {
  return {.kind = kind, .mark = MarkKind::kReference, .reference = reference};
}

// Takes up a tool on the photograph.
void start_tool(Frame& frame, const Tool& tool);

// Chooses the reference that is edited; a tool that marks another one is put down.
void choose_reference(Frame& frame, std::size_t reference);

}  // namespace potshadow

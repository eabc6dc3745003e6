// SPDX-License-Identifier: MIT
// The list of the browser of files: folders and files with their kinds and sizes.
#pragma once

#include <cstddef>
#include <optional>

#include "desktop/window/frame.h"

namespace potshadow {

// Draws the list, `height` high, and goes where a click says. `gone_to` is the entry that the keys
// went to; it is brought into sight.
void entry_list(Frame& frame, float height, std::optional<std::size_t> gone_to);

}  // namespace potshadow

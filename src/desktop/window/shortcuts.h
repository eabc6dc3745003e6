// SPDX-License-Identifier: MIT
// What the keys do; the help view lists the same keys (desktop/words/help_words.h).
#pragma once

#include "desktop/window/frame.h"

namespace potshadow {

// Works through the keys that were pressed before this frame. Where a text is being typed, only
// keys that mean nothing to a text count. `photo_box` is where the photograph is shown.
void apply_shortcuts(Frame& frame, ScreenBox photo_box);

}  // namespace potshadow

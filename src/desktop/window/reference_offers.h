// SPDX-License-Identifier: MIT
// What a reference can be added as: the common objects, searched by name, and the other kinds.
#pragma once

#include "desktop/window/frame.h"

namespace potshadow {

// The fold that holds them; it closes once one is added.
inline constexpr const char* kAddReferenceFold = "Add a reference";

void reference_offers(Frame& frame);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// A photograph of a project turned by quarters, with everything that is marked on it.
#pragma once

#include <optional>

#include "core/result.h"
#include "project/project.h"

namespace potshadow::internal {

// Turns the photograph clockwise; returns the problem where it cannot be turned: its size is not
// recorded, or a reference of an unknown kind has marks that no turn reaches. Then nothing changes.
std::optional<Problem> turn_photo(ProjectPhoto& photo, int quarter_turns);

}  // namespace potshadow::internal

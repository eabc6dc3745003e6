// SPDX-License-Identifier: MIT
// Pyrometric cones: the heat at which each bends over.
#pragma once

#include <optional>
#include <string_view>

namespace potshadow {

// Returns the heat in °C at which a large cone bends when heated by 60 °C an hour, or nothing for a
// name that is no cone from 022 to 12. Spaces and a "cone" before the number do not matter, and "^"
// stands for it. A cone tells heat-work, not heat alone: a slower or a faster firing bends it
// earlier or later. Source: the makers' tables, from memory.
std::optional<double> cone_celsius(std::string_view cone);

}  // namespace potshadow

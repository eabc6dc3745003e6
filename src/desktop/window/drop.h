// SPDX-License-Identifier: MIT
// What files that are dropped on the window are for.
#pragma once

#include <filesystem>
#include <vector>

#include "desktop/window/orders.h"

namespace potshadow {

// Returns what to do with them. A project among them is opened, alone. With a project `open`,
// everything else is added to it as further photographs of its vessel; with none, the first is
// opened and the others are added to it.
std::vector<Order> orders_of_drop(const std::vector<std::filesystem::path>& files, bool open);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// The residuals of marks on a body's surface, the vessel's or a neighbour's.
#pragma once

#include <cstddef>

#include "estimate/costs.h"

// Internal to `estimate`. Each is the distance of a mark from the point of the curve that it is
// matched with, across that curve, over its standard deviation. The vessel's have their derivatives
// by hand (picture.h), for there are many; a neighbour's have them by automatic differentiation.
namespace potshadow::internal {

// A mark on the vessel. Parameters: pose, lens, pane, round, both blocks of the controls.
Cost mark_cost(const Setting& setting, PhotoPoint mark, double sd_px, SharedMatched matched,
               std::size_t view, std::size_t index, std::size_t control_count);

// A mark on the `neighbour`-th neighbour. Parameters: pose, lens, pane, tilt, the neighbour's
// place, round and both blocks of the controls.
Cost neighbour_mark_cost(const Setting& setting, PhotoPoint mark, double sd_px,
                         SharedMatched matched, std::size_t view, std::size_t neighbour,
                         std::size_t index, std::size_t control_count);

}  // namespace potshadow::internal

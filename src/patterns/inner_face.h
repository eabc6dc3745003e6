// SPDX-License-Identifier: MIT
// The inner face of the wall as a line that nowhere crosses itself.
#pragma once

#include <vector>

#include "clay/wall.h"
#include "core/result.h"

// Model: as clay/wall.h, the outer face moved inwards along its normal by the wall's thickness.
// Where the outer face turns in sharply that line would loop; what lies nearer to the outer face
// than the wall is thick is left out, and so is what lies below the floor's upper side.
namespace potshadow {

// Returns its points from the floor (or, on a round base, from the axis) to the rim's inner edge,
// a fraction of a millimetre apart. Fails as wall_of does, and with kBadValue where no such line is
// left.
Result<std::vector<ProfilePoint>> inner_face(const Profile& profile,
                                             const WallThickness& thickness);

// Returns the wall's whole section, closed: outer face base first, inner face rim first, and the
// floor as far as the axis. Simplified to `tolerance_mm`. Fails as inner_face.
Result<std::vector<ProfilePoint>> wall_section(const Profile& profile,
                                               const WallThickness& thickness, double tolerance_mm);

}  // namespace potshadow

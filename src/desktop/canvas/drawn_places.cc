// SPDX-License-Identifier: MIT
#include "desktop/canvas/drawn_places.h"

#include <cmath>

namespace potshadow {

bool DrawnPlaces::take(MarkKind kind, const PhotoPoint& at) {
  return taken_.emplace(kind, std::floor(at.x_px / side_px_), std::floor(at.y_px / side_px_))
      .second;
}

}  // namespace potshadow

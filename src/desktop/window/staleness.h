// SPDX-License-Identifier: MIT
// When figures that are not current are shown as such.
#pragma once

#include <chrono>

#include "desktop/session/session.h"

namespace potshadow {

// Figures that are soon to be replaced are not greyed at once, or they would flicker in a drag.
inline constexpr double kGreyAfterSeconds = 0.4;

// Returns whether the figures are to be shown grey: they are of an earlier document, and there are
// no new ones or these take their time.
inline bool greyed(const Figures& figures) {
  if (figures.current) return false;
  if (figures.problem || !figures.busy) return true;
  const std::chrono::duration<double> waited =
      std::chrono::steady_clock::now() - figures.busy->since;
  return waited.count() > kGreyAfterSeconds;
}

}  // namespace potshadow

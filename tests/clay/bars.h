// SPDX-License-Identifier: MIT
// Test bars for the tests.
#pragma once

#include "clay/clay_body.h"

namespace potshadow::test {

inline TestBar bar(double wet, double dry, double fired) {
  TestBar made;
  made.wet_mm = wet;
  made.dry_mm = dry;
  made.fired_mm = fired;
  return made;
}

}  // namespace potshadow::test

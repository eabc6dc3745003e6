// SPDX-License-Identifier: MIT
// An original with sizes and a clay, for tests of the pot on the bench.
#pragma once

#include "project/low_bowl.h"

namespace potshadow {

// Returns the bowl, 80 mm high and 200 mm wide, of a clay that shrinks by one eighth.
inline Measurement bowl_to_make() {
  Measurement measurement = low_bowl();
  measurement.answer.sizes = {
      {.name = SizeName::kHeight, .measured = normal_measured(80.0, 0.4)},
      {.name = SizeName::kMaxDiameter, .measured = normal_measured(200.0, 1.0)},
      {.name = SizeName::kHeightOfMax, .measured = normal_measured(78.0, 1.0)},
      {.name = SizeName::kBaseDiameter, .measured = normal_measured(80.0, 1.0)},
      {.name = SizeName::kCapacity, .measured = normal_measured(1200.0, 20.0)}};
  measurement.answer.notes.clear();
  ProjectClay clay;
  clay.name = "Buff mix";
  clay.shrinkage_percent = 12.5;
  clay.shrinkage_sd_percent = 0.2;
  measurement.project.clay = clay;
  add_clay(ClayBook(), measurement);
  return measurement;
}

}  // namespace potshadow

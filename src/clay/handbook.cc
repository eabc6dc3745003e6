// SPDX-License-Identifier: MIT
#include "clay/handbook.h"

#include <numbers>

namespace potshadow {

double sd_of(const HandbookRange& range) {
  return (range.high - range.low) / 2.0 * std::numbers::inv_sqrt3;
}

double half95_of(const HandbookRange& range) { return 0.95 * (range.high - range.low) / 2.0; }

LinearShrinkage handbook_shrinkage(Stage from, Stage to, const HandbookRange& percent) {
  return {from, to, middle_of(percent) / 100.0, sd_of(percent) / 100.0, half95_of(percent) / 100.0};
}

}  // namespace potshadow

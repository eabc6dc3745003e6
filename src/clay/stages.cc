// SPDX-License-Identifier: MIT
#include "clay/stages.h"

namespace potshadow {
namespace {

double squared_width(const Measured& m) {
  const double width = m.high95 - m.low95;
  return width * width;
}

// Compares what came out with what an exactly known clay would give.
StageSize with_share(const Measured& whole, const Measured& by_photograph) {
  const double all = squared_width(whole);
  return {whole, all > 0.0 ? 1.0 - squared_width(by_photograph) / all : 0.0};
}

LinearShrinkage exact(LinearShrinkage shrinkage) {
  shrinkage.sd = 0.0;
  shrinkage.half95 = 0.0;
  return shrinkage;
}

}  // namespace

LinearShrinkage to_fired(const BodyFigures& figures, Stage stage, SizeWay way) {
  switch (stage) {
    case Stage::kWet:
      if (figures.upright && figures.across) {
        return (way == SizeWay::kUpright ? *figures.upright : *figures.across).shrinkage;
      }
      return figures.total.shrinkage;
    case Stage::kLeatherHard:
      return figures.from_leather.shrinkage;
    case Stage::kBoneDry:
      return figures.firing.shrinkage;
    case Stage::kFired:
      break;
  }
  return {Stage::kFired, Stage::kFired, 0.0, 0.0, 0.0};
}

StageSize length_at_stage(const Measured& fired, const BodyFigures& figures, Stage stage,
                          SizeWay way) {
  const LinearShrinkage shrinkage = to_fired(figures, stage, way);
  return with_share(length_before(fired, shrinkage), length_before(fired, exact(shrinkage)));
}

StageSize volume_at_stage(const Measured& fired, const BodyFigures& figures, Stage stage) {
  const LinearShrinkage shrinkage = to_fired(figures, stage, SizeWay::kAcross);
  // One shrinkage stands for both ways.
  const LinearShrinkage& whole = stage == Stage::kWet ? figures.total.shrinkage : shrinkage;
  return with_share(volume_before(fired, whole), volume_before(fired, exact(whole)));
}

}  // namespace potshadow

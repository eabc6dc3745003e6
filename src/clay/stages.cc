// SPDX-License-Identifier: MIT
#include "clay/stages.h"

#include <cmath>

#include "clay/carried.h"

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

// What a volume is multiplied by until it is fired, with its doubt as a part of itself.
struct VolumeFactor {
  double factor = 1.0;
  double sd = 0.0;
  double half95 = 0.0;
};

// Two ways across and one upright. Where one shrinkage stands for both it counts three times over;
// else the two come of different bars, and are independent.
VolumeFactor volume_factor(const BodyFigures& figures, Stage stage) {
  const LinearShrinkage across = to_fired(figures, stage, SizeWay::kAcross);
  const double a = 1.0 - across.fraction;
  if (!has_ways(figures, stage)) {
    return {a * a * a, 3.0 * across.sd / a, 3.0 * across.half95 / a};
  }
  const LinearShrinkage upright = to_fired(figures, stage, SizeWay::kUpright);
  const double u = 1.0 - upright.fraction;
  return {a * a * u, std::hypot(2.0 * across.sd / a, upright.sd / u),
          std::hypot(2.0 * across.half95 / a, upright.half95 / u)};
}

}  // namespace

bool has_ways(const BodyFigures& figures, Stage stage) {
  return stage == Stage::kWet && figures.upright && figures.across;
}

LinearShrinkage to_fired(const BodyFigures& figures, Stage stage, SizeWay way) {
  switch (stage) {
    case Stage::kWet:
      if (has_ways(figures, stage)) {
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
  const VolumeFactor to_fired = volume_factor(figures, stage);
  const double back = 1.0 / to_fired.factor;
  const double value = std::abs(fired.value) * back;
  return with_share(carried(fired, back, value * to_fired.sd, value * to_fired.half95),
                    carried(fired, back, 0.0, 0.0));
}

Measured length_when_fired(const Measured& now, const BodyFigures& figures, Stage stage,
                           SizeWay way) {
  return length_after(now, to_fired(figures, stage, way));
}

Measured volume_when_fired(const Measured& now, const BodyFigures& figures, Stage stage) {
  const VolumeFactor to_fired = volume_factor(figures, stage);
  const double value = std::abs(now.value) * to_fired.factor;
  return carried(now, to_fired.factor, value * to_fired.sd, value * to_fired.half95);
}

Profile profile_at_stage(const Profile& fired, const BodyFigures& figures, Stage stage) {
  const auto enlargement = [&](SizeWay way) {
    return 1.0 / (1.0 - to_fired(figures, stage, way).fraction);
  };
  return fired.scaled(enlargement(SizeWay::kAcross), enlargement(SizeWay::kUpright));
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
// What one pot really shrank by, and how that weighs with its clay's other evidence.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "clay/bench_check.h"
#include "clay/clay_body.h"
#include "clay/linear_shrinkage.h"
#include "core/measured.h"
#include "core/result.h"

// Model: a size measured at an earlier and at a later stage tells S = 1 - after / before, a part of
// the EARLIER length, with the doubt of both. Several sizes of one pot are averaged, each weighted
// by its certainty; where they scatter more than their doubts allow, the mean's doubt grows by as
// much (Birge 1932, Physical Review 40(2), from memory).
//
// A pot is no test bar: thick and thin walls, coils, a slow drying or a cool place in the kiln move
// it. So beside its own doubt it has kPotScatter, and counts as one value of so much weight beside
// the one that bars, maker, mix or handbook give.
namespace potshadow {

// How pots of one clay differ from bars of it and from each other, as a standard deviation (common
// practice, no source).
inline constexpr double kPotScatter = 0.005;

struct SizePair {
  std::string words;  // "maximum diameter"
  PartKind kind = PartKind::kDiameter;
  Measured before;
  Measured after;
};

struct PotShrinkage {
  LinearShrinkage shrinkage;               // all lengths together
  std::vector<LinearShrinkage> each;       // in the order of the pairs
  std::optional<LinearShrinkage> upright;  // of the heights, and of the diameters: both or neither
  std::optional<LinearShrinkage> across;
};

// Returns what the pairs tell, with a doubtful note where a size grew by up to 1 %. Capacities do
// not count. Requires that `to` comes after `from`. Fails with kBadValue: no lengths, sizes not
// above zero, more growth than that (it asks whether before and after were exchanged), a shrinkage
// above 30 % (it asks about the unit).
Result<PotShrinkage> pot_shrinkage(const std::vector<SizePair>& pairs, Stage from, Stage to);

// What a figure becomes by the pots that go with it.
struct WithPots {
  LinearShrinkage shrinkage;
  std::vector<std::size_t> pots;  // places in ClayBody::pots of those that count
};

// Returns `base`, the figure without pots, with every used pot of `body` that was followed between
// the same stages along that way and, where it was fired, at that heat (kSameFiringC); nothing
// where there is none.
std::optional<WithPots> with_pots(const LinearShrinkage& base, const ClayBody& body, BarWay way,
                                  std::optional<double> firing_c);

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "clay/pot_shrinkage.h"

#include <algorithm>
#include <cmath>

#include "clay/bar_shrinkage.h"
#include "core/check.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kMostGrowth = 0.01;
constexpr double kMostShrinkage = 0.30;

// Values with their standard uncertainties, averaged.
class WeightedMean {
 public:
  struct Value {
    double value = 0.0;
    double sd = 0.0;
  };
  void add(const Value& one) {
    values_.push_back(one.value);
    weights_.push_back(1.0 / (one.sd * one.sd));
  }
  std::size_t count() const { return values_.size(); }
  LinearShrinkage shrinkage(Stage from, Stage to) const {
    double all = 0.0;
    double mean = 0.0;
    for (std::size_t i = 0; i < values_.size(); ++i) {
      all += weights_[i];
      mean += weights_[i] * values_[i];
    }
    mean /= all;
    double squares = 0.0;
    for (std::size_t i = 0; i < values_.size(); ++i) {
      squares += weights_[i] * (values_[i] - mean) * (values_[i] - mean);
    }
    const double freedom = std::max(1.0, static_cast<double>(values_.size()) - 1.0);
    const double scatter = std::max(1.0, std::sqrt(squares / freedom));
    return normal_shrinkage(from, to, mean, scatter / std::sqrt(all));
  }

 private:
  std::vector<double> values_;
  std::vector<double> weights_;
};

LinearShrinkage shrinkage_of(const SizePair& pair, Stage from, Stage to) {
  const double before = pair.before.value;
  const double left = pair.after.value / before;
  // Nothing is read off exactly; a thousandth of a point keeps the weights finite.
  constexpr double kLeastSd = 1e-5;
  const double sd = std::hypot(pair.after.sd / before, left * pair.before.sd / before, kLeastSd);
  return normal_shrinkage(from, to, 1.0 - left, sd);
}

std::optional<Problem> pair_problem(const SizePair& pair, Stage from, Stage to) {
  const auto words = [](const Measured& m) { return fixed_text(m.value, 1) + " mm"; };
  const auto finite = [](const Measured& m) { return std::isfinite(m.value) && m.value > 0.0; };
  if (!finite(pair.before) || !finite(pair.after)) {
    return Problem{Code::kBadValue, "The " + pair.words + " is not above zero.",
                   "Give the size as it was read.", ""};
  }
  const std::string measures = "The " + pair.words + " was " + words(pair.before) + " " +
                               std::string(stage_words(from)) + " and is " + words(pair.after) +
                               " " + std::string(stage_words(to));
  const double shrinkage = 1.0 - pair.after.value / pair.before.value;
  if (shrinkage < -kMostGrowth) {
    return Problem{Code::kBadValue, measures + ": it would have grown. Were they exchanged?",
                   "Give the earlier size where it belongs, or measure again.", ""};
  }
  if (shrinkage > kMostShrinkage) {
    return Problem{Code::kBadValue,
                   measures + ", less by " + fixed_text(100.0 * shrinkage, 0) +
                       " %; no clay shrinks so far. Was one of them typed in another unit?",
                   "Give both in one unit, or measure again.", ""};
  }
  return std::nullopt;
}

}  // namespace

Result<PotShrinkage> pot_shrinkage(const std::vector<SizePair>& pairs, Stage from, Stage to) {
  POTSHADOW_CHECK(from < to);
  PotShrinkage pot;
  std::vector<Note> notes;
  WeightedMean all;
  WeightedMean upright;
  WeightedMean across;
  for (const SizePair& pair : pairs) {
    if (pair.kind == PartKind::kCapacity) continue;
    if (auto problem = pair_problem(pair, from, to)) return *problem;
    const LinearShrinkage one = shrinkage_of(pair, from, to);
    pot.each.push_back(one);
    all.add({one.fraction, one.sd});
    (pair.kind == PartKind::kDiameter ? across : upright).add({one.fraction, one.sd});
    if (one.fraction < 0.0) {
      notes.push_back({"The " + pair.words + " grew by " + fixed_text(-100.0 * one.fraction, 1) +
                           " %. A little is possible; were the two figures exchanged?",
                       true});
    }
  }
  if (all.count() == 0) {
    return Problem{Code::kBadValue, "No size of the pot was measured at both stages.",
                   "Give one length at least, both " + std::string(stage_words(from)) + " and " +
                       std::string(stage_words(to)) + ".",
                   ""};
  }
  pot.shrinkage = all.shrinkage(from, to);
  if (upright.count() > 0 && across.count() > 0) {
    pot.upright = upright.shrinkage(from, to);
    pot.across = across.shrinkage(from, to);
  }
  return {std::move(pot), std::move(notes)};
}

std::optional<WithPots> with_pots(const LinearShrinkage& base, const ClayBody& body, BarWay way,
                                  std::optional<double> firing_c) {
  WeightedMean mean;
  // An interval that few bars made wide counts as wide. Without any doubt nothing moves it.
  const double base_sd = std::max(base.sd, base.half95 / kNormal95);
  if (base_sd <= 0.0) return std::nullopt;
  mean.add({base.fraction, base_sd});
  WithPots with;
  for (std::size_t i = 0; i < body.pots.size(); ++i) {
    const PotRecord& pot = body.pots[i];
    const bool same_heat = base.to != Stage::kFired || !firing_c || !pot.firing_c ||
                           std::abs(*pot.firing_c - *firing_c) <= kSameFiringC;
    if (!pot.used || pot.from != base.from || pot.to != base.to || pot.way != way || !same_heat) {
      continue;
    }
    mean.add({pot.percent / 100.0, std::hypot(pot.sd_percent / 100.0, kPotScatter)});
    with.pots.push_back(i);
  }
  if (with.pots.empty()) return std::nullopt;
  with.shrinkage = mean.shrinkage(base.from, base.to);
  return with;
}

}  // namespace potshadow

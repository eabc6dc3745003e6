// SPDX-License-Identifier: MIT
#include "estimate/monte_carlo.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <string>

#include "core/propagation.h"
#include "core/text.h"
#include "estimate/checks.h"
#include "estimate/known_size.h"
#include "estimate/redraw.h"
#include "estimate/solve.h"
#include "estimate/solved.h"
#include "vessel/sizes.h"

namespace potshadow {
namespace {

constexpr double kDiffering = 0.2;
// Draws that are repeated small, which gives their variance to a tenth, and how small: still well
// above the solver's own rounding, but near enough to a straight line.
constexpr int kSmallPairs = 200;
constexpr double kSmall = 0.3;

using Values = std::array<double, kSizeCount>;  // by SizeName; NaN where there is none

// Reads a drawn vessel's sizes, those that the first answer has.
std::optional<Values> values_of(const internal::State& state, const Answer& first, double wall_mm) {
  constexpr int kSlices = 60;  // the same error in every draw
  const auto profile = internal::profile_of(state.vessel.controls);
  if (!profile) return std::nullopt;
  const double foot_mm = state.vessel.controls[1];
  const Sizes sizes = sizes_of(*profile);
  const auto read = [&](SizeName name) -> std::optional<double> {
    switch (name) {
      case SizeName::kHeight:
        return sizes.height_mm - foot_mm;
      case SizeName::kMaxDiameter:
        return sizes.max_diameter_mm;
      case SizeName::kHeightOfMax:
        return sizes.height_of_max_mm - foot_mm;
      case SizeName::kNeckDiameter:
        return sizes.neck_diameter_mm;
      case SizeName::kHeightOfNeck:
        if (!sizes.height_of_neck_mm) return std::nullopt;
        return *sizes.height_of_neck_mm - foot_mm;
      case SizeName::kRimDiameter:
        return sizes.rim_diameter_mm;
      case SizeName::kBaseDiameter:
        return sizes.base_diameter_mm;
      case SizeName::kCapacity:
        return capacity_ml(*profile, Mm{wall_mm}, kSlices);
    }
    return std::nullopt;
  };
  Values values;
  values.fill(std::numeric_limits<double>::quiet_NaN());
  for (const MeasuredSize& size : first.sizes) {
    if (const auto value = read(size.name)) values[static_cast<std::size_t>(size.name)] = *value;
  }
  return values;
}

// One draw: the sizes it gave and the normal deviations for what no draw reaches.
struct Drawn {
  bool answered = false;
  Values values{};
  Values extra{};
};

// Estimates drawn inputs anew.
class Anew {
 public:
  Anew(const Answer& first, const internal::Solved& solved)
      : first_(first), solved_(solved), scatter_(internal::widening(first)) {
    const internal::Linear linear =
        internal::linearised(solved.task, solved.smoothness, solved.state);
    squares_ = linear.residual.squaredNorm();
    drawn_ = static_cast<double>(std::count_if(
        linear.rows.begin(), linear.rows.end(),
        [](const internal::RowInfo& row) { return row.kind != internal::RowKind::kSmoothness; }));
  }

  // Returns the sizes that an input gives whose deviations were multiplied by `size`, or none where
  // it gives no vessel.
  std::optional<Values> sizes(const EstimateInput& drawn, double size) const {
    if (const auto state = internal::solved_redrawn(drawn, solved_, most_cost(size))) {
      return values_of(*state, first_, drawn.wall_mm);
    }
    // It has led into a vessel that does not fit, so nothing is taken from the first one.
    if (!internal::check_input(drawn)) return std::nullopt;
    const auto solved = internal::solved(drawn);
    if (!solved) return std::nullopt;
    return values_of(solved->state, first_, drawn.wall_mm);
  }

 private:
  // What a draw that was followed costs at most: the first vessel's misfit and deviations by
  // chance. Their squares add up to a noncentral chi-squared variable.
  double most_cost(double size) const {
    constexpr double kChance = 4.0;  // standard deviations, of which the fit takes some away
    const double variance = size * size * scatter_ * scatter_;
    const double mean = squares_ + variance * drawn_;
    const double sd = std::sqrt(2.0 * variance * variance * drawn_ + 4.0 * variance * squares_);
    return (mean + kChance * sd) / 2.0;
  }

  const Answer& first_;
  const internal::Solved& solved_;
  double scatter_ = 1.0;
  double squares_ = 0.0;  // at the first vessel
  double drawn_ = 0.0;    // how many of them are of what is drawn
};

// Half the difference of two draws that deviate the other way each, brought to full size.
std::optional<Values> small_response(const internal::Redraw& redraw, const Anew& anew,
                                     std::uint64_t seed, std::uint64_t index) {
  Values response{};
  for (const double sign : {1.0, -1.0}) {
    DrawRandom random(seed, index);
    const auto values = anew.sizes(redraw.drawn(random, sign * kSmall), kSmall);
    if (!values) return std::nullopt;
    for (std::size_t i = 0; i < kSizeCount; ++i) {
      response[i] += sign * (*values)[i] / (2.0 * kSmall);
    }
  }
  return response;
}

// Returns the variance of a size that the redrawn inputs bring while they are small, or none where
// too few draws had that size.
std::optional<double> small_variance(const std::vector<std::optional<Values>>& responses,
                                     std::size_t size) {
  double sum = 0.0;
  double count = 0.0;
  for (const auto& response : responses) {
    if (!response || !std::isfinite((*response)[size])) continue;
    sum += (*response)[size] * (*response)[size];
    count += 1.0;
  }
  if (2.0 * count < static_cast<double>(responses.size())) return std::nullopt;
  return sum / count;
}

std::string percent_text(double part) { return fixed_text(100.0 * part, 0) + " %"; }

// How an interval compares with the usual one: "34 % wider than the usual one".
std::string against_usual(double width, double usual) {
  // Percent no longer say much beyond this, and nothing where the usual interval has no width.
  constexpr double kManyTimes = 10.0;
  if (!(usual > 0.0)) return "where the usual way gives none";
  const double ratio = width / usual;
  if (ratio > kManyTimes) return "more than ten times as wide as the usual one";
  return percent_text(std::abs(ratio - 1.0)) + (ratio > 1.0 ? " wider" : " narrower") +
         " than the usual one";
}

}  // namespace

bool RedrawnSize::differs() const {
  // The half-width of a normal sample's interval varies by chance by this over the root of its
  // size; three of that are no finding. It matters below some 200 draws.
  constexpr double kChance = 0.96;
  const double chance = 3.0 * kChance / std::sqrt(static_cast<double>(std::max(1, draws)));
  const double stated = first.high95 - first.low95;
  return std::abs((high95 - low95) - stated) > std::max(kDiffering, chance) * stated;
}

Result<MonteCarlo> monte_carlo(const EstimateInput& input, const Answer& first,
                               const MonteCarloWishes& wishes) {
  if (wishes.draws < kFewestDraws || wishes.draws > kMostDraws) {
    return Problem{Code::kBadValue, "The number of draws is out of range.",
                   "Ask for " + std::to_string(kFewestDraws) + " to " + std::to_string(kMostDraws) +
                       " draws; 1000 is a good number.",
                   ""};
  }
  MonteCarlo out{wishes.draws, 0, wishes.seed, {}};
  if (first.sizes.empty()) return out;  // without a scale there is nothing to redraw
  const auto solved = internal::solved(input);
  if (!solved) return solved.problem();

  const internal::Redraw redraw(input, first);
  const Anew anew(first, *solved);
  const int pairs = std::min(kSmallPairs, wishes.draws);
  const int all = pairs + wishes.draws;
  std::vector<std::optional<Values>> responses(static_cast<std::size_t>(pairs));
  std::vector<Drawn> draws(static_cast<std::size_t>(wishes.draws));
  const auto work = [&](int index) {
    if (index < pairs) {
      const auto at = static_cast<std::size_t>(index);
      responses[at] = small_response(redraw, anew, wishes.seed, at);
      return;
    }
    const auto at = static_cast<std::size_t>(index - pairs);
    DrawRandom random(wishes.seed, at);
    const auto values = anew.sizes(redraw.drawn(random, 1.0), 1.0);
    if (!values) return;
    draws[at].answered = true;
    draws[at].values = *values;
    for (double& extra : draws[at].extra) extra = random.normal();
  };
  const auto progress = [&](int done) {
    if (wishes.progress) wishes.progress(done, all);
  };
  if (!run_draws(all, wishes.jobs, work, progress, wishes.stop)) {
    return Problem{Code::kCannotBeAnswered, "The check of the intervals was stopped.",
                   "Start it again, with fewer draws if it takes too long.", "stopped"};
  }

  for (const Drawn& drawn : draws) out.failed += drawn.answered ? 0 : 1;
  if (2 * out.failed > out.draws) {
    return Problem{Code::kCannotBeAnswered,
                   "The intervals could not be checked: most of the redrawn marks gave no answer.",
                   "Add marks on the rim, the foot and both outlines, or another reference.",
                   "draws failed"};
  }
  for (const MeasuredSize& size : first.sizes) {
    const auto at = static_cast<std::size_t>(size.name);
    const std::optional<double> reached = small_variance(responses, at);
    if (!reached) continue;
    const double stated = size.measured.sd * size.measured.sd;
    const double missing = std::max(0.0, stated - *reached);
    std::vector<double> sample;
    for (const Drawn& drawn : draws) {
      if (!drawn.answered || !std::isfinite(drawn.values[at])) continue;
      sample.push_back(drawn.values[at] + std::sqrt(missing) * drawn.extra[at]);
    }
    if (2 * sample.size() < draws.size()) continue;
    const int count = static_cast<int>(sample.size());
    const Spread spread = spread_of(std::move(sample));
    out.sizes.push_back({size.name, size.measured, spread.mean, spread.sd, spread.low95,
                         spread.high95, stated > 0.0 ? missing / stated : 0.0, count});
  }
  return out;
}

void take_up(const MonteCarlo& monte_carlo, Answer& answer) {
  for (const RedrawnSize& redrawn : monte_carlo.sizes) {
    if (!redrawn.differs()) continue;
    for (MeasuredSize& size : answer.sizes) {
      if (size.name != redrawn.name) continue;
      const double stated = redrawn.first.high95 - redrawn.first.low95;
      answer.notes.push_back({std::string(size_words(size.name)) +
                                  ": redrawing the marks and everything else that is uncertain "
                                  "gave an interval " +
                                  against_usual(redrawn.high95 - redrawn.low95, stated) +
                                  ", so it is used here.",
                              true});
      const double own = size.budget[static_cast<std::size_t>(DoubtSource::kOutOfRound)] *
                         redrawn.first.sd * redrawn.first.sd;
      size.measured = {size.measured.value, redrawn.sd, redrawn.low95, redrawn.high95};
      size.camera_sd = std::sqrt(std::max(0.0, redrawn.sd * redrawn.sd - own));
    }
  }
  constexpr double kNoticeable = 0.05;
  const double failed = static_cast<double>(monte_carlo.failed) / monte_carlo.draws;
  if (failed > kNoticeable) {
    answer.notes.push_back({percent_text(failed) +
                                " of the redrawn estimates gave no answer, so "
                                "the intervals may be too narrow. More marks would help.",
                            true});
  }
}

}  // namespace potshadow

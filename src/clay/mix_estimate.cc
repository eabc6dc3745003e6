// SPDX-License-Identifier: MIT
#include "clay/mix_estimate.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "clay/handbook.h"

namespace potshadow {
namespace {

// A sum of shares of figures, with their doubts added in squares.
struct Sum {
  double value = 0.0;
  double variance = 0.0;
  double half_squared = 0.0;

  void add(double share, const LinearShrinkage& part) {
    value += share * part.fraction;
    variance += share * share * part.sd * part.sd;
    half_squared += share * share * part.half95 * part.half95;
  }
  void add(double share, const Measured& part) {
    const double half95 = (part.high95 - part.low95) / 2.0;
    value += share * part.value;
    variance += share * share * part.sd * part.sd;
    half_squared += share * share * half95 * half95;
  }
  Measured measured() const {
    const double half = std::sqrt(half_squared);
    return {value, std::sqrt(variance), value - half, value + half};
  }
};

Measured measured_of(const HandbookRange& range) {
  const double middle = middle_of(range);
  return {middle, sd_of(range), middle - half95_of(range), middle + half95_of(range)};
}

// Lowers a mean of the clays by what temper may do, between nothing and its whole share.
LinearShrinkage with_temper(Stage from, Stage to, const Sum& clays, double temper) {
  const double kept = 1.0 - temper / 2.0;
  const double open = std::abs(clays.value) * temper / 2.0 * std::numbers::inv_sqrt3;
  const double extra = std::hypot(open, kMixSd);
  return {from, to, clays.value * kept, std::hypot(std::sqrt(clays.variance) * kept, extra),
          std::hypot(std::sqrt(clays.half_squared) * kept, kNormal95 * extra)};
}

bool is_known(const BodyFigures& figures) {
  return figures.drying.source != FigureSource::kHandbook ||
         figures.firing.source != FigureSource::kHandbook ||
         figures.total.source != FigureSource::kHandbook;
}

}  // namespace

std::optional<MixEstimate> mix_estimate(const ClayBody& body, const std::vector<ClayBody>& book,
                                        std::optional<double> firing_c,
                                        const std::vector<std::string>& seen) {
  double all = 0.0;
  double clay = 0.0;
  for (const MixPart& part : body.mix) {
    all += part.dry_parts;
    if (part.kind == MixKind::kClay) clay += part.dry_parts;
  }
  if (!(clay > 0.0)) return std::nullopt;
  std::vector<std::string> path = seen;
  path.push_back(body.record);
  MixEstimate estimate;
  Sum drying;
  Sum firing;
  Sum water;
  Sum ignition;
  bool any_known = false;
  for (const MixPart& part : body.mix) {
    if (part.kind != MixKind::kClay) continue;
    const double share = part.dry_parts / clay;
    const ClayBody* const known = std::find(path.begin(), path.end(), part.record) == path.end()
                                      ? body_in(book, part.record)
                                      : nullptr;
    if (known != nullptr) {
      const Result<BodyFigures> figures = figures_within(*known, book, firing_c, path);
      if (figures.ok() && is_known(*figures)) {
        any_known = true;
        drying.add(share, figures->drying.shrinkage);
        firing.add(share, figures->firing.shrinkage);
        water.add(share, figures->water_percent.measured);
        ignition.add(share, figures->ignition_percent.measured);
        continue;
      }
    }
    estimate.unknown.push_back(part.name.empty() ? part.record : part.name);
    drying.add(share, handbook_shrinkage(Stage::kWet, Stage::kBoneDry, kDryingPercent));
    firing.add(share, handbook_shrinkage(Stage::kBoneDry, Stage::kFired, kFiringPercent));
    water.add(share, measured_of(kWaterPercent));
    ignition.add(share, measured_of(kIgnitionPercent));
  }
  if (!any_known) return std::nullopt;
  const double temper = 1.0 - clay / all;
  estimate.drying = with_temper(Stage::kWet, Stage::kBoneDry, drying, temper);
  estimate.firing = with_temper(Stage::kBoneDry, Stage::kFired, firing, temper);
  // Temper takes little water and loses little weight.
  estimate.water_percent = scaled(water.measured(), clay / all);
  estimate.ignition_percent = scaled(ignition.measured(), clay / all);
  return estimate;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "clay/body_figures.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "clay/bar_shrinkage.h"
#include "clay/handbook.h"
#include "clay/mix_estimate.h"
#include "clay/pot_shrinkage.h"
#include "core/propagation.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kGrainDensity = 2.65;    // g/cm3, of quartz and most clay minerals
constexpr double kGrainDensitySd = 0.05;  // common practice, no source
constexpr double kLoneWeightSd = 1.0;     // percentage points: one bar weighed once

using Found = std::optional<ClayShrinkage>;

Found stated_in(const ClayBody& body, Stage from, Stage to) {
  for (const StatedShrinkage& stated : body.stated) {
    if (stated.from != from || stated.to != to) continue;
    return ClayShrinkage{
        normal_shrinkage(from, to, stated.percent / 100.0, stated.sd_percent / 100.0),
        FigureSource::kMaker};
  }
  return std::nullopt;
}

// The three shrinkages of a pot, each as far as it is known.
struct Known {
  Found drying;
  Found firing;
  Found total;
};

Measured with_half(double value, double sd, double half95) {
  return {value, sd, value - half95, value + half95};
}

// Asks the bars, then the maker. Adds the bars' notes.
Result<Found> direct(const ClayBody& body, const BarQuestion& question, std::vector<Note>& notes) {
  const Result<std::optional<BarAnswer>> answer = bar_shrinkage(body, question);
  if (!answer) return answer.problem();
  notes.insert(notes.end(), answer.notes().begin(), answer.notes().end());
  if (*answer) {
    return Found(ClayShrinkage{(*answer)->shrinkage, FigureSource::kBars, (*answer)->bars});
  }
  return stated_in(body, question.from, question.to);
}

Found worked_out(const LinearShrinkage& shrinkage) {
  return ClayShrinkage{shrinkage, FigureSource::kWorkedOut};
}

// Fills the one of three that is missing from the two others.
void complete(Known& known) {
  if (!known.total && known.drying && known.firing) {
    known.total = worked_out(then(known.drying->shrinkage, known.firing->shrinkage));
  } else if (!known.firing && known.drying && known.total) {
    known.firing = worked_out(rest_after(known.total->shrinkage, known.drying->shrinkage));
  } else if (!known.drying && known.firing && known.total) {
    known.drying = worked_out(rest_before(known.total->shrinkage, known.firing->shrinkage));
  }
}

void take_estimate(const MixEstimate& estimate, const ClayBody& body, Known& known,
                   std::vector<Note>& notes) {
  if (!known.drying) known.drying = ClayShrinkage{estimate.drying, FigureSource::kMix};
  if (!known.firing) known.firing = ClayShrinkage{estimate.firing, FigureSource::kMix};
  known.total =
      ClayShrinkage{then(known.drying->shrinkage, known.firing->shrinkage), FigureSource::kMix};
  std::string text = "The shrinkage of '" + body.record +
                     "' is an estimate from the clays of its mix, until there are bars of it.";
  for (const std::string& name : estimate.unknown) {
    text +=
        " Of '" + name + "' nothing is known at that heat, so a handbook's range stands for it.";
  }
  notes.push_back({text, true});
}

// What the whole tells of its parts: which part of it is drying is open.
void share_out(Known& known) {
  const LinearShrinkage& whole = known.total->shrinkage;
  const double part = middle_of(kDryingPart);
  const double open = std::abs(whole.fraction);
  const LinearShrinkage drying{Stage::kWet, Stage::kBoneDry, part * whole.fraction,
                               std::hypot(part * whole.sd, sd_of(kDryingPart) * open),
                               std::hypot(part * whole.half95, half95_of(kDryingPart) * open)};
  known.drying = ClayShrinkage{drying, FigureSource::kHandbook};
  // The rest is small where the drying is great: its doubt is that of the share, not of both.
  const double left = 1.0 - drying.fraction;
  const double by_share = (1.0 - whole.fraction) / (left * left) * open;
  const double by_whole = (1.0 - part) / (left * left);
  known.firing =
      ClayShrinkage{{Stage::kBoneDry, Stage::kFired, 1.0 - (1.0 - whole.fraction) / left,
                     std::hypot(by_share * sd_of(kDryingPart), by_whole * whole.sd),
                     std::hypot(by_share * half95_of(kDryingPart), by_whole * whole.half95)},
                    FigureSource::kHandbook};
}

void take_handbook(const ClayBody& body, Known& known, std::vector<Note>& notes) {
  const auto firing = handbook_shrinkage(Stage::kBoneDry, Stage::kFired, kFiringPercent);
  std::string what = "total shrinkage";
  if (known.total) {
    share_out(known);
    what = "share of drying in the shrinkage";
  } else if (known.drying) {
    known.firing = ClayShrinkage{firing, FigureSource::kHandbook};
    known.total = ClayShrinkage{then(known.drying->shrinkage, firing), FigureSource::kHandbook};
    what = "firing shrinkage";
  } else if (known.firing) {
    const auto drying = handbook_shrinkage(Stage::kWet, Stage::kBoneDry, kDryingPercent);
    known.drying = ClayShrinkage{drying, FigureSource::kHandbook};
    known.total = ClayShrinkage{then(drying, known.firing->shrinkage), FigureSource::kHandbook};
    what = "drying shrinkage";
  } else {
    known.total = ClayShrinkage{handbook_shrinkage(Stage::kWet, Stage::kFired, kTotalPercent),
                                FigureSource::kHandbook};
    share_out(known);
  }
  notes.push_back({"No bar of '" + body.record + "' tells its " + what +
                       ", so a handbook's wide range stands for it. Make test bars.",
                   true});
}

// Leather-hard to fired: bars, else a share of the drying shrinkage.
Result<ClayShrinkage> leather_of(const ClayBody& body, std::optional<double> firing_c,
                                 const Known& known, std::vector<Note>& notes) {
  const Result<Found> bars =
      direct(body, {Stage::kLeatherHard, Stage::kFired, firing_c, BarWay::kEither}, notes);
  if (!bars) return bars.problem();
  if (*bars) return **bars;
  // What is still to come is a part of the drying, and all of the firing.
  const LinearShrinkage& drying = known.drying->shrinkage;
  const double done = middle_of(kLeatherPart);
  const double open = std::abs(drying.fraction);
  const LinearShrinkage to_dry{
      Stage::kLeatherHard, Stage::kBoneDry,
      1.0 - (1.0 - drying.fraction) / (1.0 - done * drying.fraction),
      std::hypot((1.0 - done) * drying.sd, sd_of(kLeatherPart) * open),
      std::hypot((1.0 - done) * drying.half95, half95_of(kLeatherPart) * open)};
  return ClayShrinkage{then(to_dry, known.firing->shrinkage), FigureSource::kHandbook};
}

// Returns the mean of what each bar's two weights give, percent of the one of `base`.
std::optional<Measured> weight_percent(const ClayBody& body, std::optional<double> TestBar::*heavy,
                                       std::optional<double> TestBar::*light,
                                       std::optional<double> TestBar::*base) {
  std::vector<double> values;
  for (const TestBar& bar : body.bars) {
    if (!bar.used || !(bar.*heavy) || !(bar.*light)) continue;
    values.push_back(100.0 * (*(bar.*heavy) - *(bar.*light)) / *(bar.*base));
  }
  return bar_mean(values, kLoneWeightSd);
}

ClayValue value_of(const std::optional<Measured>& bars, const std::optional<StatedValue>& stated,
                   const std::optional<Measured>& mix, const HandbookRange& range) {
  if (bars) return {*bars, FigureSource::kBars};
  if (stated) return {normal_measured(stated->value, stated->sd), FigureSource::kMaker};
  if (mix) return {*mix, FigureSource::kMix};
  return {with_half(middle_of(range), sd_of(range), half95_of(range)), FigureSource::kHandbook};
}

UncertainInput input_of(const Measured& m) { return {m.value, m.sd}; }

Measured propagated(const Model& model, const std::vector<UncertainInput>& inputs) {
  const FirstOrder result = first_order(model, inputs);
  return normal_measured(result.value, result.sd);
}

void add_weights(const ClayBody& body, const std::optional<MixEstimate>& mix,
                 BodyFigures& figures) {
  std::optional<Measured> mix_water;
  std::optional<Measured> mix_ignition;
  if (mix) {
    mix_water = mix->water_percent;
    mix_ignition = mix->ignition_percent;
  }
  figures.water_percent =
      value_of(weight_percent(body, &TestBar::wet_g, &TestBar::dry_g, &TestBar::dry_g),
               body.water_percent, mix_water, kWaterPercent);
  figures.ignition_percent =
      value_of(weight_percent(body, &TestBar::dry_g, &TestBar::fired_g, &TestBar::dry_g),
               std::nullopt, mix_ignition, kIgnitionPercent);
  const UncertainInput water = input_of(figures.water_percent.measured);
  const UncertainInput ignition = input_of(figures.ignition_percent.measured);
  const auto loss = weight_percent(body, &TestBar::wet_g, &TestBar::fired_g, &TestBar::wet_g);
  if (loss) {
    figures.weight_loss_percent = {*loss, FigureSource::kBars};
  } else {
    const auto model = [](std::span<const double> x) {
      return 100.0 * (1.0 - (1.0 - x[1] / 100.0) / (1.0 + x[0] / 100.0));
    };
    figures.weight_loss_percent = {propagated(model, {water, ignition}), FigureSource::kWorkedOut};
  }
  if (body.wet_density) {
    figures.wet_density = {normal_measured(body.wet_density->value, body.wet_density->sd),
                           FigureSource::kMaker};
  } else {
    const auto model = [](std::span<const double> x) {
      return saturated_density(x[0] / 100.0, x[1]);
    };
    figures.wet_density = {propagated(model, {water, {kGrainDensity, kGrainDensitySd}}),
                           FigureSource::kWorkedOut};
  }
  if (body.fired_density) {
    figures.fired_density = {normal_measured(body.fired_density->value, body.fired_density->sd),
                             FigureSource::kMaker};
    return;
  }
  // The same matter, less what it lost, in the volume that is left.
  const LinearShrinkage& total = figures.total.shrinkage;
  const auto model = [](std::span<const double> x) {
    return x[0] * (1.0 - x[1] / 100.0) / std::pow(1.0 - x[2], 3);
  };
  figures.fired_density = {propagated(model, {input_of(figures.wet_density.measured),
                                              input_of(figures.weight_loss_percent.measured),
                                              {total.fraction, total.sd}}),
                           FigureSource::kWorkedOut};
}

// Vertical and horizontal bars apart, where both are there.
void add_ways(const ClayBody& body, std::optional<double> firing_c, BodyFigures& figures,
              std::vector<Note>& notes) {
  const auto ask = [&](BarWay way) {
    return bar_shrinkage(body, {Stage::kWet, Stage::kFired, firing_c, way});
  };
  const auto has = [&](BarWay way) {
    return std::any_of(body.bars.begin(), body.bars.end(),
                       [&](const TestBar& bar) { return bar.used && bar.way == way; });
  };
  if (!has(BarWay::kVertical) || !has(BarWay::kHorizontal)) return;
  const Result<std::optional<BarAnswer>> upright = ask(BarWay::kVertical);
  const Result<std::optional<BarAnswer>> across = ask(BarWay::kHorizontal);
  if (!upright || !across || !*upright || !*across) {
    notes.push_back({"The vertical and the horizontal bars of '" + body.record +
                         "' do not both tell their shrinkage at that firing, so one figure stands "
                         "for both ways.",
                     false});
    return;
  }
  figures.upright = ClayShrinkage{(*upright)->shrinkage, FigureSource::kBars, (*upright)->bars};
  figures.across = ClayShrinkage{(*across)->shrinkage, FigureSource::kBars, (*across)->bars};
}

void weigh_pots_in(const ClayBody& body, BarWay way, std::optional<double> firing_c,
                   ClayShrinkage& figure) {
  const std::optional<double> heat = firing_c ? firing_c : body.firing_c;
  const std::optional<WithPots> with = with_pots(figure.shrinkage, body, way, heat);
  if (!with) return;
  figure.without_pots = figure.shrinkage;
  figure.shrinkage = with->shrinkage;
  figure.pots = with->pots;
}

void weigh_pots_in(const ClayBody& body, std::optional<double> firing_c, BodyFigures& figures) {
  for (ClayShrinkage* figure :
       {&figures.drying, &figures.firing, &figures.total, &figures.from_leather}) {
    weigh_pots_in(body, BarWay::kEither, firing_c, *figure);
  }
  if (!figures.upright || !figures.across) return;
  weigh_pots_in(body, BarWay::kVertical, firing_c, *figures.upright);
  weigh_pots_in(body, BarWay::kHorizontal, firing_c, *figures.across);
}

}  // namespace

double saturated_density(double water, double grain) {
  return (1.0 + water) / (1.0 / grain + water);
}

const ClayBody* body_in(const std::vector<ClayBody>& book, const std::string& record) {
  const auto found = std::find_if(book.begin(), book.end(),
                                  [&](const ClayBody& body) { return body.record == record; });
  return found == book.end() || record.empty() ? nullptr : &*found;
}

Result<BodyFigures> figures_within(const ClayBody& body, const std::vector<ClayBody>& book,
                                   std::optional<double> firing_c,
                                   const std::vector<std::string>& seen) {
  const Result<Done> checked = check_body(body);
  if (!checked) return checked.problem();
  std::vector<Note> notes = checked.notes();
  const auto ask = [&](Stage from, Stage to) {
    return direct(body, {from, to, firing_c, BarWay::kEither}, notes);
  };
  const Result<Found> drying = ask(Stage::kWet, Stage::kBoneDry);
  if (!drying) return drying.problem();
  const Result<Found> firing = ask(Stage::kBoneDry, Stage::kFired);
  if (!firing) return firing.problem();
  const Result<Found> total = ask(Stage::kWet, Stage::kFired);
  if (!total) return total.problem();
  Known known{*drying, *firing, *total};
  complete(known);
  const std::optional<MixEstimate> mix = mix_estimate(body, book, firing_c, seen);
  if (!known.total && mix) take_estimate(*mix, body, known, notes);
  if (!known.total || !known.drying || !known.firing) take_handbook(body, known, notes);

  BodyFigures figures;
  figures.drying = *known.drying;
  figures.firing = *known.firing;
  figures.total = *known.total;
  const Result<ClayShrinkage> leather = leather_of(body, firing_c, known, notes);
  if (!leather) return leather.problem();
  figures.from_leather = *leather;
  add_ways(body, firing_c, figures, notes);
  weigh_pots_in(body, firing_c, figures);
  add_weights(body, mix, figures);
  return {std::move(figures), std::move(notes)};
}

Result<BodyFigures> body_figures(const ClayBody& body, const std::vector<ClayBody>& book,
                                 std::optional<double> firing_c) {
  return figures_within(body, book, firing_c, {});
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "project/compare_series.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "clay/handbook.h"
#include "project/answer_text.h"

namespace potshadow {
namespace {

std::vector<SizePair> pairs_of(const ComparedVessel& before, const ComparedVessel& after) {
  std::vector<SizePair> pairs;
  for (const MeasuredSize& size : before.sizes) {
    const MeasuredSize* const later = find_size(after, size.name);
    if (size.name == SizeName::kCapacity || later == nullptr) continue;
    pairs.push_back(
        {size_in_sentence(size.name), part_kind_of(size.name), size.measured, later->measured});
  }
  return pairs;
}

// Puts the states of one pot in their order, and says what it shrank by.
std::optional<Problem> follow(SeriesPot& pot, std::vector<Note>& notes) {
  std::stable_sort(
      pot.states.begin(), pot.states.end(),
      [](const SeriesState& a, const SeriesState& b) { return a.vessel.stage < b.vessel.stage; });
  const auto shrinkage = [&](const ComparedVessel& before,
                             const ComparedVessel& after) -> Result<std::optional<PotShrinkage>> {
    const std::vector<SizePair> pairs = pairs_of(before, after);
    if (pairs.empty()) return std::optional<PotShrinkage>();
    Result<PotShrinkage> found = pot_shrinkage(pairs, before.stage, after.stage);
    if (!found) {
      Problem problem = found.problem();
      problem.what = pot.title + ": " + problem.what;
      return problem;
    }
    for (const Note& note : found.notes()) {
      notes.push_back({pot.title + ": " + note.text, note.doubtful});
    }
    return std::optional<PotShrinkage>(std::move(found).value());
  };
  for (std::size_t i = 0; i + 1 < pot.states.size(); ++i) {
    const ComparedVessel& before = pot.states[i].vessel;
    const ComparedVessel& after = pot.states[i + 1].vessel;
    if (before.stage == after.stage) {
      return Problem{
          Code::kBadValue,
          "'" + pot.title + "' was given twice " + std::string(stage_words(before.stage)) + ".",
          "Give two pots names of their own, or leave one of the files out.", ""};
    }
    Result<std::optional<PotShrinkage>> step = shrinkage(before, after);
    if (!step) return step.problem();
    if (*step) pot.shrank.push_back(**step);
  }
  const ComparedVessel& first = pot.states.front().vessel;
  const ComparedVessel& last = pot.states.back().vessel;
  if (first.stage != Stage::kWet || last.stage != Stage::kFired) return std::nullopt;
  Result<std::optional<PotShrinkage>> all = shrinkage(first, last);
  if (!all) return all.problem();
  pot.in_all = *all;
  return std::nullopt;
}

// What is known of the clay without these pots.
LinearShrinkage base_of(const ComparedVessel& original, const std::vector<SeriesPot>& pots) {
  for (const SeriesPot& pot : pots) {
    for (const SeriesState& state : pot.states) {
      if (state.vessel.clay) return state.vessel.clay->total.linear();
    }
  }
  if (original.clay) return original.clay->total.linear();
  return handbook_shrinkage(Stage::kWet, Stage::kFired, kTotalPercent);
}

// The base with the pots weighed in, along one way; nothing where none tells it.
std::optional<LinearShrinkage> with_these(const LinearShrinkage& base,
                                          const std::vector<SeriesPot>& pots, BarWay way) {
  ClayBody body;
  for (const SeriesPot& pot : pots) {
    if (!pot.in_all) continue;
    const std::optional<LinearShrinkage>& own = way == BarWay::kVertical ? pot.in_all->upright
                                                : way == BarWay::kHorizontal
                                                    ? pot.in_all->across
                                                    : pot.in_all->shrinkage;
    if (!own) continue;
    constexpr double kPercent = 100.0;
    PotRecord record;
    record.pot = pot.title;
    record.percent = kPercent * own->fraction;
    record.sd_percent = kPercent * own->sd;
    record.way = way;
    body.pots.push_back(record);
  }
  const std::optional<WithPots> with = with_pots(base, body, way, std::nullopt);
  if (!with) return std::nullopt;
  return with->shrinkage;
}

// Of a single pot: it scatters about its clay's mean.
LinearShrinkage of_one_pot(const LinearShrinkage& mean) {
  const double sd = std::hypot(std::max(mean.sd, mean.half95 / kNormal95), kPotScatter);
  return normal_shrinkage(mean.from, mean.to, mean.fraction, sd);
}

void suggest(const ComparedVessel& original, PotSeries& series) {
  for (const SeriesPot& pot : series.pots) {
    if (pot.in_all) ++series.followed;
  }
  if (series.followed == 0) return;
  const LinearShrinkage base = base_of(original, series.pots);
  series.mean = with_these(base, series.pots, BarWay::kEither);
  if (!series.mean) return;
  series.next_pot = of_one_pot(*series.mean);
  const auto upright = with_these(base, series.pots, BarWay::kVertical);
  const auto across = with_these(base, series.pots, BarWay::kHorizontal);
  const bool ways = upright && across;
  for (const MeasuredSize& size : original.sizes) {
    if (size.name == SizeName::kCapacity) continue;
    const bool is_across = way_of(size.name) == SizeWay::kAcross;
    const LinearShrinkage& mean = ways ? (is_across ? *across : *upright) : *series.mean;
    series.next.push_back(
        {size.name, size.measured, length_before(size.measured, of_one_pot(mean))});
  }
}

}  // namespace

Result<PotSeries> pot_series(const ComparedVessel& original,
                             const std::vector<ComparedVessel>& made, std::optional<Stage> at) {
  PotSeries series;
  series.at = at.value_or(Stage::kFired);
  series.drawn_there = at.has_value();
  series.original = original.title;
  if (original.stage != Stage::kFired) {
    return Problem{Code::kBadValue, "The original of a series must be fired.",
                   "Give the original first, then the pots made after it.", ""};
  }
  series.original_rows = original.form.rows;
  series.original_sizes = original.sizes;
  for (const ComparedVessel& vessel : made) {
    if (vessel.file == original.file) {
      return Problem{Code::kBadValue, "The original was given among the pots too.",
                     "Name it once, before the pots.", ""};
    }
    const auto pot = std::find_if(series.pots.begin(), series.pots.end(),
                                  [&](const SeriesPot& p) { return p.title == vessel.title; });
    SeriesState state{.vessel = vessel, .against = std::nullopt};
    const Result<VesselComparison> against = compare_vessels(original, vessel, series.at);
    if (against) {
      state.against = *against;
      ComparedVessel moved = vessel;
      if (!moved.clay) moved.clay = original.clay;  // as compare_vessels has it
      state.there = at_stage(moved, series.at);
    } else {
      state.why_not = against.problem().what;
    }
    if (pot == series.pots.end()) {
      series.pots.push_back({vessel.title, {std::move(state)}});
    } else {
      pot->states.push_back(std::move(state));
    }
  }
  for (SeriesPot& pot : series.pots) {
    if (auto problem = follow(pot, series.notes)) return *problem;
  }
  suggest(original, series);
  if (original.guessed) {
    series.notes.push_back(
        {"The original's scale is a guess, and so is every size to make.", true});
  }
  return series;
}

}  // namespace potshadow

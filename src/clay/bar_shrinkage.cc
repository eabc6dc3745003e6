// SPDX-License-Identifier: MIT
#include "clay/bar_shrinkage.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <utility>

#include "clay/small_sample.h"
#include "core/student_t.h"
#include "core/text.h"

namespace potshadow {
namespace {

// Bars that were fired together, or dried; `firing_c` is absent where nobody wrote it down.
struct Group {
  std::optional<double> firing_c;
  std::vector<std::size_t> bars;
  std::vector<double> values;
};

bool counts(const TestBar& bar, const BarQuestion& question) {
  const bool right_way = question.way == BarWay::kEither || question.way == bar.way;
  return bar.used && right_way && length_at(bar, question.from) && length_at(bar, question.to);
}

// Returns the groups, coolest first; those of unknown heat come first of all.
std::vector<Group> groups_of(const ClayBody& body, const BarQuestion& question) {
  struct One {
    double heat;
    std::size_t bar;
  };
  constexpr double kUnknown = -std::numeric_limits<double>::infinity();
  std::vector<One> bars;
  for (std::size_t i = 0; i < body.bars.size(); ++i) {
    if (!counts(body.bars[i], question)) continue;
    const bool fired = question.to == Stage::kFired;
    bars.push_back({fired ? firing_of(body.bars[i]).value_or(kUnknown) : kUnknown, i});
  }
  std::stable_sort(bars.begin(), bars.end(),
                   [](const One& a, const One& b) { return a.heat < b.heat; });
  std::vector<Group> groups;
  std::vector<double> heats;
  double first_heat = 0.0;
  for (const One& one : bars) {
    if (groups.empty() || one.heat > first_heat + kSameFiringC) {
      groups.push_back({});
      heats.clear();
      first_heat = one.heat;
    }
    const TestBar& bar = body.bars[one.bar];
    const double before = *length_at(bar, question.from);
    groups.back().bars.push_back(one.bar);
    groups.back().values.push_back((before - *length_at(bar, question.to)) / before);
    if (one.heat == kUnknown) continue;
    heats.push_back(one.heat);
    groups.back().firing_c = mean_of(heats);
  }
  return groups;
}

// The doubt of one bar's shrinkage that the ruler alone brings: two readings, over the bars' mean
// length.
double reading_sd_of(const ClayBody& body, const std::vector<Group>& groups, Stage from) {
  double sum = 0.0;
  double count = 0.0;
  for (const Group& group : groups) {
    for (const std::size_t i : group.bars) {
      sum += *length_at(body.bars[i], from);
      count += 1.0;
    }
  }
  return body.reading_sd_mm * std::numbers::sqrt2 / (sum / count);
}

std::string percent_words(double fraction) { return fixed_text(100.0 * fraction, 1) + " %"; }

std::string between_words(const BarQuestion& question) {
  return "from " + std::string(stage_words(question.from)) + " to " +
         std::string(stage_words(question.to));
}

void note_strays(const Group& group, const BarQuestion& question, double reading_sd,
                 std::vector<Note>& notes) {
  const std::optional<std::size_t> stray = stray_of(group.values, reading_sd);
  if (stray) {
    std::vector<double> others = group.values;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(*stray));
    notes.push_back({"Bar " + std::to_string(group.bars[*stray] + 1) + " shrank by " +
                         percent_words(group.values[*stray]) + " " + between_words(question) +
                         " and the others by " + percent_words(mean_of(others)) +
                         " on average: by Grubbs' test at 5 % it does not belong to them. Measure "
                         "it again, or leave it out.",
                     true});
  }
  if (group.values.size() == 2 && pair_is_apart(group.values[0], group.values[1])) {
    notes.push_back({"Bars " + std::to_string(group.bars[0] + 1) + " and " +
                         std::to_string(group.bars[1] + 1) + " disagree (" +
                         percent_words(group.values[0]) + " and " + percent_words(group.values[1]) +
                         " " + between_words(question) +
                         "), and two cannot tell which is right. Make a third.",
                     true});
  }
}

std::string heats_words(const std::vector<Group>& groups) {
  std::string words;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    if (i > 0) words += i + 1 == groups.size() ? " and " : ", ";
    words += groups[i].firing_c ? fixed_text(*groups[i].firing_c, 0) + " °C" : "a heat not noted";
  }
  return words;
}

// One group, or two and how far between them.
struct Between {
  std::size_t low = 0;
  std::size_t high = 0;
  double weight_of_high = 0.0;
};

Result<Between> place_among(const std::vector<Group>& groups, const ClayBody& body,
                            const BarQuestion& question) {
  if (question.to != Stage::kFired) return Between{};
  const std::optional<double> wanted = question.firing_c ? question.firing_c : body.firing_c;
  if (!wanted) {
    if (groups.size() == 1) return Between{};
    return Problem{Code::kCannotBeAnswered,
                   "The bars of '" + body.record + "' were fired at " + heats_words(groups) +
                       ", and it is not said which firing is meant.",
                   "Say how hot you fire, in °C.", ""};
  }
  if (groups.size() == 1 && !groups.front().firing_c) {
    return {Between{},
            {{"The bars of '" + body.record +
                  "' do not say how hot they were fired, so it is taken "
                  "that it was at " +
                  fixed_text(*wanted, 0) + " °C.",
              true}}};
  }
  for (std::size_t i = 0; i < groups.size(); ++i) {
    if (groups[i].firing_c && std::abs(*groups[i].firing_c - *wanted) <= kSameFiringC) {
      return Between{i, i, 0.0};
    }
  }
  for (std::size_t i = 0; i + 1 < groups.size(); ++i) {
    const std::optional<double>& low = groups[i].firing_c;
    const std::optional<double>& high = groups[i + 1].firing_c;
    if (low && high && *low < *wanted && *wanted < *high) {
      return Between{i, i + 1, (*wanted - *low) / (*high - *low)};
    }
  }
  return Problem{Code::kCannotBeAnswered,
                 "The bars of '" + body.record + "' were fired at " + heats_words(groups) +
                     ", and " + fixed_text(*wanted, 0) + " °C lies beyond.",
                 "Fire bars at that heat too, or ask for one that they cover.", ""};
}

}  // namespace

std::optional<Measured> bar_mean(const std::vector<double>& values, double alone) {
  if (values.empty()) return std::nullopt;
  const double mean = mean_of(values);
  if (values.size() == 1) return normal_measured(mean, alone);
  Scatter scatter = scatter_of(std::array{values}, 0.0);
  const MeanDoubt doubt = doubt_of_mean(scatter, 1.0 / static_cast<double>(values.size()));
  return Measured{mean, doubt.sd, mean - doubt.half95, mean + doubt.half95};
}

Result<std::optional<BarAnswer>> bar_shrinkage(const ClayBody& body, const BarQuestion& question) {
  const std::vector<Group> groups = groups_of(body, question);
  if (groups.empty()) return std::optional<BarAnswer>();
  const Result<Between> place = place_among(groups, body, question);
  if (!place) return place.problem();
  std::vector<Note> notes = place.notes();

  const double reading_sd = reading_sd_of(body, groups, question.from);
  std::vector<std::vector<double>> values;
  values.reserve(groups.size());
  for (const Group& group : groups) values.push_back(group.values);
  const Scatter scatter = scatter_of(values, reading_sd);

  const Group& low = groups[place->low];
  const Group& high = groups[place->high];
  const double weight = place->weight_of_high;
  const double low_mean = mean_of(low.values);
  const double step = mean_of(high.values) - low_mean;
  double share = (1.0 - weight) * (1.0 - weight) / static_cast<double>(low.values.size());
  BarAnswer answer;
  answer.bars = low.bars;
  note_strays(low, question, reading_sd, notes);
  if (place->high != place->low) {
    share += weight * weight / static_cast<double>(high.values.size());
    answer.bars.insert(answer.bars.end(), high.bars.begin(), high.bars.end());
    note_strays(high, question, reading_sd, notes);
    notes.push_back({"The shrinkage " + between_words(question) +
                         " is interpolated between bars "
                         "fired at " +
                         fixed_text(*low.firing_c, 0) + " and " + fixed_text(*high.firing_c, 0) +
                         " °C.",
                     false});
  }
  const MeanDoubt doubt = doubt_of_mean(scatter, share);
  // Rectangular, of half-width w (1 - w) of the step: a quarter of it in the middle.
  const double bend = weight * (1.0 - weight) * std::abs(step) * std::numbers::inv_sqrt3;
  answer.shrinkage = {question.from, question.to, low_mean + weight * step,
                      std::hypot(doubt.sd, bend), std::hypot(doubt.half95, kNormal95 * bend)};
  if (scatter.freedom == 0 && question.way == BarWay::kEither) {
    notes.push_back({"One bar tells the shrinkage " + between_words(question) +
                         ", and none its scatter, which is taken as 1.5 points; make more bars, "
                         "three at least.",
                     false});
  }
  return {std::optional<BarAnswer>(std::move(answer)), std::move(notes)};
}

}  // namespace potshadow

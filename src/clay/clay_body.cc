// SPDX-License-Identifier: MIT
#include "clay/clay_body.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "clay/cone.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kMostLengthMm = 2000.0;  // no bar is longer
constexpr double kMostWeightG = 100'000.0;
constexpr double kMostParts = 1e6;  // of a mix; a ton in grams
constexpr double kMostFiringC = 1500.0;
constexpr double kLeastFiringC = 300.0;  // nothing is fired below
constexpr double kSmallGrowth = 0.01;    // of the length: asked about, not refused
constexpr double kMostShrinkage = 0.30;
// An inch is 25.4 mm, give or take the most that clay shrinks.
constexpr double kLeastInchRatio = kMmPerInch * (1.0 - kMostShrinkage);
constexpr double kMostInchRatio = kMmPerInch / (1.0 - kMostShrinkage);
constexpr double kShortBarMm = 15.0;  // marks nearer than that are inches, or of no use

struct NamedValue {
  std::string name;
  double value;
};

std::string bar_words(std::size_t number) { return "Bar " + std::to_string(number); }

Problem bad(const std::string& what, const std::string& next) {
  return {Code::kBadValue, what, next, ""};
}

std::vector<NamedValue> lengths_of(const TestBar& bar) {
  std::vector<NamedValue> lengths;
  for (const Stage stage : {Stage::kWet, Stage::kLeatherHard, Stage::kBoneDry, Stage::kFired}) {
    const std::optional<double>& length = length_at(bar, stage);
    if (length) lengths.push_back({std::string(stage_words(stage)), *length});
  }
  return lengths;
}

std::optional<Problem> range_problem(const std::vector<NamedValue>& values, double most,
                                     const std::string& unit, std::size_t number) {
  for (const NamedValue& value : values) {
    if (std::isfinite(value.value) && value.value > 0.0 && value.value <= most) continue;
    return bad(bar_words(number) + " cannot be " + fixed_text(value.value, 1) + " " + unit +
                   " when " + value.name + ".",
               "Give a number above 0, up to " + fixed_text(most, 0) + " " + unit + ".");
  }
  return std::nullopt;
}

std::string pair_words(const NamedValue& a, const NamedValue& b, const std::string& unit) {
  return fixed_text(a.value, 1) + " " + unit + " " + a.name + " and " + fixed_text(b.value, 1) +
         " " + unit + " " + b.name;
}

// Looks at each length and the next; adds notes on small growth.
std::optional<Problem> order_problem(const std::vector<NamedValue>& lengths, std::size_t number,
                                     std::vector<Note>& notes) {
  for (std::size_t i = 0; i + 1 < lengths.size(); ++i) {
    const NamedValue& before = lengths[i];
    const NamedValue& after = lengths[i + 1];
    const double ratio = std::max(before.value, after.value) / std::min(before.value, after.value);
    if (ratio > kLeastInchRatio && ratio < kMostInchRatio) {
      return bad(bar_words(number) + " has " + pair_words(before, after, "mm") +
                     ", and one of them looks like inches.",
                 "Give both in millimetres; an inch is 25.4 of them.");
    }
    const double growth = after.value / before.value - 1.0;
    if (growth > kSmallGrowth) {
      return bad(bar_words(number) + " is longer " + after.name + " than " + before.name + " (" +
                     pair_words(before, after, "mm") + "), as if the two were exchanged.",
                 "Put each length at its own stage, or measure the bar again.");
    }
    if (-growth > kMostShrinkage) {
      return bad(bar_words(number) + " would shrink by " + fixed_text(-100.0 * growth, 0) +
                     " % from " + before.name + " to " + after.name + ", more than any clay does.",
                 "Look at both lengths again; they are those between the two marks.");
    }
    if (growth > 0.0) {
      notes.push_back({bar_words(number) + " grew by " + fixed_text(100.0 * growth, 1) +
                           " % from " + before.name + " to " + after.name +
                           ". A few clays do; measure it again, and correct it if it did not.",
                       true});
    }
  }
  return std::nullopt;
}

std::vector<NamedValue> weights_of(const TestBar& bar) {
  std::vector<NamedValue> weights;
  if (bar.wet_g) weights.push_back({"wet", *bar.wet_g});
  if (bar.dry_g) weights.push_back({"bone-dry", *bar.dry_g});
  if (bar.fired_g) weights.push_back({"fired", *bar.fired_g});
  return weights;
}

std::optional<Problem> weight_problem(const TestBar& bar, std::size_t number) {
  const std::vector<NamedValue> weights = weights_of(bar);
  if (auto problem = range_problem(weights, kMostWeightG, "g", number)) return problem;
  for (std::size_t i = 0; i + 1 < weights.size(); ++i) {
    if (weights[i + 1].value <= weights[i].value) continue;
    return bad(bar_words(number) + " is heavier " + weights[i + 1].name + " than " +
                   weights[i].name + " (" + pair_words(weights[i], weights[i + 1], "g") + ").",
               "Put each weight at its own stage, or weigh the bar again.");
  }
  return std::nullopt;
}

bool is_heat(double celsius) {
  return std::isfinite(celsius) && celsius >= kLeastFiringC && celsius <= kMostFiringC;
}

std::optional<Problem> heat_problem(const std::optional<double>& celsius,
                                    const std::string& subject) {
  if (!celsius || is_heat(*celsius)) return std::nullopt;
  return bad(subject + " cannot be fired at " + fixed_text(*celsius, 0) + " °C.",
             "Give the heat in °C, from 300 to 1500, or leave it out.");
}

// Of a StatedShrinkage or a PotRecord.
template <class Figure>
std::optional<Problem> percent_problem(const Figure& figure) {
  const std::string words =
      std::string(stage_words(figure.from)) + " to " + std::string(stage_words(figure.to));
  if (figure.from >= figure.to) {
    return bad("A shrinkage from " + words + " runs backwards.",
               "Name the earlier stage first; the percentage is of the length at that stage.");
  }
  const bool good = std::isfinite(figure.percent) && std::isfinite(figure.sd_percent) &&
                    figure.percent >= -100.0 * kSmallGrowth &&
                    figure.percent <= 100.0 * kMostShrinkage && figure.sd_percent >= 0.0 &&
                    figure.sd_percent <= 10.0;
  if (good) return std::nullopt;
  return bad("A shrinkage of " + fixed_text(figure.percent, 1) + " ± " +
                 fixed_text(figure.sd_percent, 1) + " % from " + words + " cannot be.",
             "Give 0 to 30 % of the length at the earlier stage, known to within 10 points.");
}

std::optional<Problem> value_problem(const std::optional<StatedValue>& stated, double least,
                                     double most, const std::string& words) {
  if (!stated) return std::nullopt;
  const bool good = std::isfinite(stated->value) && std::isfinite(stated->sd) &&
                    stated->value >= least && stated->value <= most && stated->sd >= 0.0 &&
                    stated->sd <= most;
  if (good) return std::nullopt;
  return bad(words + " cannot be " + fixed_text(stated->value, 2) + ".",
             "Give a number from " + fixed_text(least, 1) + " to " + fixed_text(most, 1) + ".");
}

}  // namespace

const std::optional<double>& length_at(const TestBar& bar, Stage stage) {
  switch (stage) {
    case Stage::kWet:
      return bar.wet_mm;
    case Stage::kLeatherHard:
      return bar.leather_mm;
    case Stage::kBoneDry:
      return bar.dry_mm;
    case Stage::kFired:
      break;
  }
  return bar.fired_mm;
}

std::optional<double> firing_of(const TestBar& bar) {
  return bar.firing_c ? bar.firing_c : cone_celsius(bar.cone);
}

Result<Done> check_bar(const TestBar& bar, std::size_t number) {
  const std::vector<NamedValue> lengths = lengths_of(bar);
  if (auto problem = range_problem(lengths, kMostLengthMm, "mm", number)) return *problem;
  std::vector<Note> notes;
  if (auto problem = order_problem(lengths, number, notes)) return *problem;
  const bool short_bar = !lengths.empty() && lengths.front().value < kShortBarMm;
  if (short_bar) {
    return bad(bar_words(number) + " has its marks only " + fixed_text(lengths.front().value, 1) +
                   " mm apart, which looks like inches.",
               "Give millimetres; an inch is 25.4 of them, and 100 mm between the marks is good.");
  }
  if (auto problem = weight_problem(bar, number)) return *problem;
  if (auto problem = heat_problem(bar.firing_c, bar_words(number))) return *problem;
  if (!bar.cone.empty() && !cone_celsius(bar.cone)) {
    return bad(bar_words(number) + " names a cone that is not known: '" + bar.cone + "'.",
               "Write it as 022 to 01 or 1 to 12, or give the heat in °C.");
  }
  return Result<Done>(Done{}, std::move(notes));
}

Result<Done> check_body(const ClayBody& body) {
  if (!is_record(body.record)) {
    return bad("'" + body.record + "' cannot be a clay's record.",
               "Use letters, digits, '-', '_' and '.', up to 60 of them, as in buff-mix.");
  }
  std::vector<Note> notes;
  for (std::size_t i = 0; i < body.bars.size(); ++i) {
    const Result<Done> checked = check_bar(body.bars[i], i + 1);
    if (!checked) return checked.problem();
    notes.insert(notes.end(), checked.notes().begin(), checked.notes().end());
  }
  for (const MixPart& part : body.mix) {
    if (part.dry_parts > 0.0 && part.dry_parts <= kMostParts) continue;
    return bad("The mix holds no amount of '" + part.name + "' that can be.",
               "Give its dry weight as a number above 0, up to a million, or take it out.");
  }
  for (const StatedShrinkage& stated : body.stated) {
    if (auto problem = percent_problem(stated)) return *problem;
  }
  for (const PotRecord& pot : body.pots) {
    if (auto problem = percent_problem(pot)) return *problem;
    if (auto problem = heat_problem(pot.firing_c, "A pot")) return *problem;
  }
  if (auto problem = heat_problem(body.firing_c, "A clay")) return *problem;
  constexpr double kMostWaterPercent = 100.0;
  constexpr double kMostDensity = 3.5;  // no clay mineral is heavier
  auto wrong = value_problem(body.water_percent, 1.0, kMostWaterPercent,
                             "The water of plasticity, in percent of the dry weight,");
  if (!wrong)
    wrong = value_problem(body.wet_density, 1.0, kMostDensity, "The wet density in g/cm3");
  if (!wrong) {
    wrong = value_problem(body.fired_density, 0.5, kMostDensity, "The fired density in g/cm3");
  }
  if (wrong) return *wrong;
  constexpr double kMostReadingSdMm = 5.0;
  const bool readable = body.reading_sd_mm > 0.0 && body.reading_sd_mm <= kMostReadingSdMm;
  if (!readable) {
    return bad(
        "A length of a bar cannot be known to within " + fixed_text(body.reading_sd_mm, 2) + " mm.",
        "Give the standard deviation of one reading, above 0 and up to 5 mm.");
  }
  return Result<Done>(Done{}, std::move(notes));
}

bool is_record(const std::string& text) {
  constexpr std::size_t kMostLetters = 60;
  const auto good = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_' || c == '.';
  };
  return !text.empty() && text.size() <= kMostLetters &&
         std::all_of(text.begin(), text.end(), good);
}

}  // namespace potshadow

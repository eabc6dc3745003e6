// SPDX-License-Identifier: MIT
#include "study/figures.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

namespace potshadow::study {
namespace {

double median(std::vector<double> values) {
  if (values.empty()) return 0.0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

double root_mean_square(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double v : values) sum += v * v;
  return values.empty() ? 0.0 : std::sqrt(sum / static_cast<double>(values.size()));
}

double robust_sd(std::vector<double> values) {
  for (double& v : values) v = std::abs(v);
  constexpr double kToSd = 1.4826;  // of a normal distribution
  return kToSd * median(std::move(values));
}

SizeFigures size_figures(const std::vector<const Trial*>& trials, SizeName name) {
  SizeFigures f;
  f.name = name;
  std::vector<double> percent;
  std::vector<double> widths;
  std::vector<double> bounds;
  std::vector<double> sds;
  for (const Trial* trial : trials) {
    if (!trial->answered) continue;
    const SizeResult& size = trial->sizes[static_cast<std::size_t>(name)];
    if (size.truth && !size.found) ++f.not_given;
    if (!size.truth && size.found) ++f.made_up;
    if (!size.both()) continue;
    ++f.covered.of;
    f.covered.hits += size.covered() ? 1U : 0U;
    const double error = size.found->value - *size.truth;
    percent.push_back(100.0 * error / *size.truth);
    f.bias_percent += percent.back();
    widths.push_back(50.0 * (size.found->high95 - size.found->low95) / *size.truth);
    if (size.found->sd > 0.0) sds.push_back(error / size.found->sd);
    if (size.bound_sd && *size.bound_sd > 0.0) bounds.push_back(error / *size.bound_sd);
  }
  if (!percent.empty()) f.bias_percent /= static_cast<double>(percent.size());
  f.rms_percent = root_mean_square(percent);
  f.robust_percent = robust_sd(percent);
  f.width_percent = median(widths);
  f.with_bound = bounds.size();
  f.to_bound = root_mean_square(bounds);
  f.to_bound_robust = robust_sd(bounds);
  f.error_to_sd = root_mean_square(sds);
  return f;
}

Group group_of(std::string kind, std::string place, const std::vector<const Trial*>& trials) {
  Group group{std::move(kind), std::move(place), trials.size(), 0, {}};
  for (const Trial* trial : trials) group.failures += trial->answered ? 0U : 1U;
  for (std::size_t i = 0; i < kSizeCount; ++i) {
    group.sizes.push_back(size_figures(trials, static_cast<SizeName>(i)));
  }
  return group;
}

double wilson(double hits, double of, double sign) {
  if (of <= 0.0) return sign < 0.0 ? 0.0 : 1.0;
  const double z2 = kNormal95 * kNormal95;
  const double p = hits / of;
  const double middle = p + z2 / (2.0 * of);
  const double half = kNormal95 * std::sqrt(p * (1.0 - p) / of + z2 / (4.0 * of * of));
  return (middle + sign * half) / (1.0 + z2 / of);
}

}  // namespace

double Share::part() const {
  return of == 0 ? 0.0 : static_cast<double>(hits) / static_cast<double>(of);
}
double Share::low() const {
  return wilson(static_cast<double>(hits), static_cast<double>(of), -1.0);
}
double Share::high() const {
  return wilson(static_cast<double>(hits), static_cast<double>(of), 1.0);
}

Figures figures_of(const std::vector<Trial>& trials) {
  Figures figures;
  std::vector<const Trial*> all;
  std::vector<std::pair<std::string, std::string>> names;
  std::map<std::pair<std::string, std::string>, std::vector<const Trial*>> members;
  std::map<std::string, std::size_t> reasons;
  for (const Trial& trial : trials) {
    all.push_back(&trial);
    const bool mixed = trial.kind == "two" || trial.kind == "views";
    const std::pair<std::string, std::string> name{trial.kind, mixed ? "" : trial.place};
    if (!members.contains(name)) names.push_back(name);
    members[name].push_back(&trial);
    if (!trial.answered) ++reasons[trial.problem];
    if (trial.followed && trial.followed->sd_got && trial.followed->sd_promised > 0.0) {
      figures.promised_to_got.push_back(*trial.followed->sd_got / trial.followed->sd_promised);
    }
  }
  figures.all = group_of("all", "", all);
  for (const auto& name : names) {
    figures.groups.push_back(group_of(name.first, name.second, members[name]));
  }
  const auto condition = [&](const char* words, const auto& holds) {
    std::vector<const Trial*> part;
    for (const Trial& trial : trials) {
      if (holds(trial)) part.push_back(&trial);
    }
    if (!part.empty()) figures.conditions.push_back(group_of(words, "", part));
  };
  condition("truly round", [](const Trial& t) { return t.oval_percent == 0.0; });
  condition("out of round 0.5 %", [](const Trial& t) { return t.oval_percent == 0.5; });
  condition("out of round 1 %", [](const Trial& t) { return t.oval_percent == 1.0; });
  condition("out of round 2 %", [](const Trial& t) { return t.oval_percent == 2.0; });
  condition("eye below the rim", [](const Trial& t) { return t.eye_over_rim_mm < 0.0; });
  condition("eye above the rim", [](const Trial& t) { return t.eye_over_rim_mm >= 0.0; });
  condition("round base", [](const Trial& t) { return t.round_base; });
  condition("with a foot", [](const Trial& t) { return !t.round_base; });
  condition("behind glass", [](const Trial& t) { return t.glass; });
  condition("without glass", [](const Trial& t) { return !t.glass; });
  figures.reasons.assign(reasons.begin(), reasons.end());
  std::stable_sort(figures.reasons.begin(), figures.reasons.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  return figures;
}

std::vector<std::string> shortcomings(const Figures& figures) {
  std::vector<std::string> wrong;
  for (const SizeFigures& size : figures.all.sizes) {
    const auto n = static_cast<double>(size.covered.of);
    constexpr double kPromised = 0.95;
    const double least = kPromised * n - 4.0 * std::sqrt(n * kPromised * (1.0 - kPromised));
    if (static_cast<double>(size.covered.hits) < least) {
      std::ostringstream text;
      text << size_words(size.name) << ": the truth is within the interval in only "
           << size.covered.hits << " of " << size.covered.of << ".";
      wrong.push_back(text.str());
    }
  }
  const auto scenes = static_cast<double>(figures.all.scenes);
  if (scenes == 0.0) wrong.emplace_back("No scene was tried.");
  if (static_cast<double>(figures.all.failures) > kMostFailures * scenes) {
    std::ostringstream text;
    text << figures.all.failures << " of " << figures.all.scenes << " scenes have no answer.";
    wrong.push_back(text.str());
  }
  return wrong;
}

}  // namespace potshadow::study

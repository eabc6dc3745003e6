// SPDX-License-Identifier: MIT
#include "clay/small_sample.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "core/check.h"
#include "core/measured.h"
#include "core/student_t.h"

namespace potshadow {
namespace {

constexpr double k95 = 0.95;

double squares_about(std::span<const double> values, double mean) {
  return std::accumulate(values.begin(), values.end(), 0.0, [&](double sum, double value) {
    return sum + (value - mean) * (value - mean);
  });
}

}  // namespace

double mean_of(std::span<const double> values) {
  POTSHADOW_CHECK(!values.empty());
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

Scatter scatter_of(std::span<const std::vector<double>> groups, double reading_sd) {
  Scatter scatter;
  scatter.reading_sd = reading_sd;
  double squares = 0.0;
  for (const std::vector<double>& group : groups) {
    if (group.empty()) continue;
    squares += squares_about(group, mean_of(group));
    scatter.freedom += group.size() - 1;
  }
  if (scatter.freedom > 0) {
    scatter.sd = std::sqrt(squares / static_cast<double>(scatter.freedom));
  }
  return scatter;
}

MeanDoubt doubt_of_mean(const Scatter& scatter, double variance_share) {
  const double share = std::sqrt(variance_share);
  const double by_ruler = scatter.reading_sd * share;
  if (scatter.freedom == 0) {
    const double sd = std::hypot(scatter.sd * share, by_ruler);
    return {sd, kNormal95 * sd};
  }
  const double t = student_t(k95, static_cast<double>(scatter.freedom));
  const double sd = scatter.sd * share;
  return {std::max(sd, by_ruler), std::max(t * sd, kNormal95 * by_ruler)};
}

double grubbs_limit(std::size_t count) {
  POTSHADOW_CHECK(count >= 3);
  const double n = static_cast<double>(count);
  constexpr double kLevel = 0.05;
  const double t = student_t(1.0 - kLevel / n, n - 2.0);
  return (n - 1.0) / std::sqrt(n) * std::sqrt(t * t / (n - 2.0 + t * t));
}

std::optional<std::size_t> stray_of(std::span<const double> values, double reading_sd) {
  if (values.size() < 3) return std::nullopt;
  const double n = static_cast<double>(values.size());
  const double mean = mean_of(values);
  const double sd = std::sqrt(squares_about(values, mean) / (n - 1.0));
  const auto far = std::max_element(values.begin(), values.end(), [&](double a, double b) {
    return std::abs(a - mean) < std::abs(b - mean);
  });
  const double off = std::abs(*far - mean);
  constexpr double kBeyondReading = 3.0;
  const double from_others = off * n / (n - 1.0);
  if (!(off > grubbs_limit(values.size()) * sd) || from_others <= kBeyondReading * reading_sd) {
    return std::nullopt;
  }
  return static_cast<std::size_t>(far - values.begin());
}

bool pair_is_apart(double a, double b) {
  return std::abs(a - b) > kNormal95 * std::numbers::sqrt2 * kLoneBarSd;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "clay/bench_reading.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "core/check.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr std::array<std::string_view, 3> kToolKeys{"caliper", "tape", "girth"};

std::optional<Problem> reading_problem(const BenchReading& reading, bool diameter) {
  if (!std::isfinite(reading.mm) || reading.mm <= 0.0) {
    return Problem{Code::kBadValue, "A pot cannot measure " + fixed_text(reading.mm, 1) + " mm.",
                   "Give the length as it was read, above zero.", ""};
  }
  const double tolerance = reading.tolerance_mm.value_or(0.0);
  if (!std::isfinite(tolerance) || tolerance < 0.0 || tolerance > reading.mm / 2.0) {
    return Problem{Code::kBadValue,
                   "A length of " + fixed_text(reading.mm, 1) + " mm cannot be read to within " +
                       fixed_text(tolerance, 1) + " mm.",
                   "Give a tolerance between zero and half of the length.", ""};
  }
  if (reading.tool == BenchTool::kGirth && !diameter) {
    return Problem{Code::kBadValue, "A height has no girth.",
                   "Give the girth for a diameter, and the height as it was read.", ""};
  }
  return std::nullopt;
}

}  // namespace

double tolerance_of(BenchTool tool) {
  switch (tool) {
    case BenchTool::kCaliper:
      return kCaliperToleranceMm;
    case BenchTool::kTape:
      return kTapeToleranceMm;
    case BenchTool::kGirth:
      break;
  }
  return kGirthToleranceMm;
}

Result<Measured> measured_size(const std::vector<BenchReading>& readings, bool diameter) {
  POTSHADOW_CHECK(!readings.empty());
  std::vector<double> one_way;  // diameters in one direction each
  std::vector<double> sizes;
  double tolerance_sd = 0.0;
  for (const BenchReading& reading : readings) {
    if (auto problem = reading_problem(reading, diameter)) return *problem;
    const bool girth = reading.tool == BenchTool::kGirth;
    const double part = girth ? std::numbers::inv_pi : 1.0;
    sizes.push_back(reading.mm * part);
    if (diameter && !girth) one_way.push_back(sizes.back());
    const double tolerance = reading.tolerance_mm.value_or(tolerance_of(reading.tool));
    tolerance_sd = std::max(tolerance_sd, tolerance * part * std::numbers::inv_sqrt3);
  }
  const auto count = static_cast<double>(sizes.size());
  double mean = 0.0;
  for (const double size : sizes) mean += size / count;
  double squares = 0.0;
  for (const double size : sizes) squares += (size - mean) * (size - mean);
  const double scatter = count > 1.0 ? std::sqrt(squares / (count - 1.0)) : 0.0;
  // Girths are free of it, so each lessens the part it has in the mean.
  const double oval =
      kOneWayPercent / 100.0 * mean * std::sqrt(static_cast<double>(one_way.size()) / count);
  const double apart = std::max(scatter, oval) / std::sqrt(count);
  return normal_measured(mean, std::hypot(tolerance_sd, apart));
}

Result<Measured> both_as_one(const Measured& a, const Measured& b) {
  POTSHADOW_CHECK(a.sd > 0.0 && b.sd > 0.0);
  const double of_a = 1.0 / (a.sd * a.sd);
  const double of_b = 1.0 / (b.sd * b.sd);
  const double value = (a.value * of_a + b.value * of_b) / (of_a + of_b);
  const double off = std::abs(a.value - b.value) / std::hypot(a.sd, b.sd);
  const double sd = std::max(1.0, off) / std::sqrt(of_a + of_b);
  if (off <= kNormal95) return normal_measured(value, sd);
  return {normal_measured(value, sd),
          {{"Two ways of measuring one size give " + fixed_text(a.value, 1) + " and " +
                fixed_text(b.value, 1) +
                " mm, farther apart than their doubts allow. Measure it "
                "again.",
            true}}};
}

std::string_view tool_key(BenchTool tool) { return kToolKeys.at(static_cast<std::size_t>(tool)); }

std::optional<BenchTool> tool_of_key(std::string_view key) {
  for (std::size_t i = 0; i < kToolKeys.size(); ++i) {
    if (kToolKeys.at(i) == key) return static_cast<BenchTool>(i);
  }
  return std::nullopt;
}

}  // namespace potshadow

// SPDX-License-Identifier: MIT
#include "clay/bench_check.h"

#include <algorithm>
#include <cmath>

#include "clay/bench_parts.h"
#include "clay/stages.h"
#include "core/check.h"
#include "core/text.h"

namespace potshadow {
namespace {

constexpr double kMostRightPercent = 50.0;

SizeWay way_of(PartKind kind) {
  return kind == PartKind::kDiameter ? SizeWay::kAcross : SizeWay::kUpright;
}

std::optional<Problem> request_problem(const BenchRequest& request) {
  if (request.parts.empty()) {
    return Problem{Code::kBadValue, "Nothing was measured on the pot.",
                   "Give one size at least, as a diameter.", ""};
  }
  if (!std::isfinite(request.right_percent) || request.right_percent < 0.0 ||
      request.right_percent > kMostRightPercent) {
    return Problem{
        Code::kBadValue,
        "What counts as right cannot be " + fixed_text(request.right_percent, 1) + " % of a size.",
        "Give a percentage between 0 and 50.", ""};
  }
  const auto positive = [](const Measured& m) { return std::isfinite(m.value) && m.value > 0.0; };
  for (const BenchPart& part : request.parts) {
    if (positive(part.target) && positive(part.measured)) continue;
    return Problem{Code::kBadValue, "The " + part.words + " is not above zero.",
                   "Give the size as it was read.", ""};
  }
  return std::nullopt;
}

// What the target is now, and the halves of its interval that photograph and clay bring.
StageSize target_now(const BenchPart& part, const BodyFigures& clay, Stage stage) {
  return part.kind == PartKind::kCapacity
             ? volume_at_stage(part.target, clay, stage)
             : length_at_stage(part.target, clay, stage, way_of(part.kind));
}

Measured when_fired(const Measured& now, PartKind kind, const BodyFigures& clay, Stage stage) {
  return kind == PartKind::kCapacity ? volume_when_fired(now, clay, stage)
                                     : length_when_fired(now, clay, stage, way_of(kind));
}

double half_of(const Measured& m) { return (m.high95 - m.low95) / 2.0; }

// Each side of the difference takes the far side of the target.
Measured difference_of(const Measured& measured, const Measured& target) {
  const double value = measured.value - target.value;
  return {value, std::hypot(measured.sd, target.sd),
          value - std::hypot(measured.value - measured.low95, target.high95 - target.value),
          value + std::hypot(measured.high95 - measured.value, target.value - target.low95)};
}

BenchSize compared(const BenchPart& part, const BenchRequest& request) {
  const StageSize target = target_now(part, request.clay, request.stage);
  BenchSize size;
  size.kind = part.kind;
  size.target = target.measured;
  size.measured = part.measured;
  size.difference = difference_of(part.measured, target.measured);
  const double now_for_fired = target.measured.value / part.target.value;
  const double whole = (part.whole > 0.0 ? part.whole : part.target.value) * now_for_fired;
  // A volume is off by three times what its lengths are.
  const double times = part.kind == PartKind::kCapacity ? 3.0 : 1.0;
  size.right_within = times * request.right_percent / 100.0 * whole;
  size.fired = when_fired(part.measured, part.kind, request.clay, request.stage);
  size.fired_difference = scaled(size.difference, 1.0 / now_for_fired);
  const double of_target = half_of(target.measured) * half_of(target.measured);
  const double of_bench = half_of(part.measured) * half_of(part.measured);
  const double all = of_target + of_bench;
  if (all > 0.0) {
    size.doubts = {of_target * (1.0 - target.clay_share) / all, of_target * target.clay_share / all,
                   of_bench / all};
  }
  const auto most = std::max_element(size.doubts.begin(), size.doubts.end());
  size.greatest = static_cast<BenchDoubt>(most - size.doubts.begin());
  return size;
}

void judge(double widening, Stage stage, BenchSize& size) {
  const Measured& d = size.difference;
  size.together_low95 = d.value - widening * (d.value - d.low95);
  size.together_high95 = d.value + widening * (d.high95 - d.value);
  if (size.together_low95 > 0.0) {
    size.verdict = Verdict::kLarger;
  } else if (size.together_high95 < 0.0) {
    size.verdict = Verdict::kSmaller;
  } else if ((size.together_high95 - size.together_low95) / 2.0 <= size.right_within) {
    size.verdict = Verdict::kRight;
  }
  size.correction = correction_of(stage, size.kind, d.value > 0.0);
}

bool is_off(const BenchSize& size) {
  return size.verdict == Verdict::kLarger || size.verdict == Verdict::kSmaller;
}

std::optional<std::size_t> first_to_correct(const std::vector<BenchSize>& sizes) {
  std::optional<std::size_t> first;
  const auto off = [](const BenchSize& size) {
    return std::abs(size.difference.value) / size.target.value;
  };
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    if (!is_off(sizes[i]) || sizes[i].correction == Correction::kNothing) continue;
    if (!first || off(sizes[i]) > off(sizes[*first])) first = i;
  }
  return first;
}

}  // namespace

Result<BenchCheck> bench_check(const BenchRequest& request) {
  if (auto problem = request_problem(request)) return *problem;
  BenchCheck check;
  check.stage = request.stage;
  for (const BenchPart& part : request.parts) check.sizes.push_back(compared(part, request));
  if (auto problem = internal::unlikely_reading(request, check.sizes)) return *problem;
  check.widening = internal::widening_of(request, check.sizes);
  for (BenchSize& size : check.sizes) judge(check.widening, request.stage, size);
  check.first = first_to_correct(check.sizes);
  check.notes = internal::bench_notes(request, check.sizes);
  return check;
}

Correction correction_of(Stage stage, PartKind kind, bool too_large) {
  if (kind == PartKind::kCapacity) return Correction::kNothing;
  if (stage == Stage::kWet) return Correction::kAsYouLike;
  const bool leather = stage == Stage::kLeatherHard;
  return leather && too_large && kind != PartKind::kPlace ? Correction::kCutOnly
                                                          : Correction::kNothing;
}

std::string_view verdict_key(Verdict verdict) {
  constexpr std::array<std::string_view, 4> kKeys{"right", "larger", "smaller", "cannot_tell"};
  return kKeys.at(static_cast<std::size_t>(verdict));
}

std::string_view bench_doubt_key(BenchDoubt doubt) {
  constexpr std::array<std::string_view, 3> kKeys{"photograph", "clay", "bench"};
  return kKeys.at(static_cast<std::size_t>(doubt));
}

}  // namespace potshadow
